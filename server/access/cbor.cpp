// SPDX-License-Identifier: MIT
#include "server/access/cbor.hpp"

#include <limits>
#include <nlohmann/json.hpp>

namespace cellarer::access::cbor {

namespace {

/// CTAP 2: "maps and arrays nest four levels at most". It bounds the recursion below.
constexpr int deepest = 4;
/// Ours: what passkeys send has ten at most, and looking for a key that comes twice takes the square of it.
constexpr std::uint64_t most_elements = 128;

class Reader {
 public:
  explicit Reader(std::string_view bytes) : whole_(bytes), rest_(bytes) {}

  Item item(int depth) {
    const unsigned head = byte();
    const unsigned major = head >> 5, info = head & 31;
    switch (major) {
      case 0:
        return {Kind::non_negative, argument(info), {}, {}};
      case 1:
        return {Kind::negative, argument(info), {}, {}};
      case 2:
        return {Kind::bytes, 0, std::string(take(argument(info))), {}};
      case 3:
        return {Kind::text, 0, utf8(take(argument(info))), {}};
      case 4:
        return elements(Kind::array, argument(info), depth);
      case 5:
        return map(argument(info), depth);
      case 6:
        refuse("a tag is not taken");
      default:
        return simple(info);
    }
  }

  std::string_view rest() const { return rest_; }

 private:
  [[noreturn]] void refuse(const std::string& reason) const {
    throw Malformed("CBOR at byte " + std::to_string(whole_.size() - rest_.size()) + ": " + reason);
  }

  std::string_view take(std::uint64_t count) {
    if (count > rest_.size()) refuse("ends too early");
    const auto taken = rest_.substr(0, static_cast<std::size_t>(count));
    rest_.remove_prefix(taken.size());
    return taken;
  }

  unsigned byte() { return static_cast<unsigned char>(take(1).front()); }

  /// RFC 8949, section 3: the length, count or value after the first byte; 4.2.1: in the fewest bytes.
  std::uint64_t argument(unsigned info) {
    if (info < 24) return info;
    if (info == 31) refuse("an indefinite length is not taken");
    if (info > 27) refuse("an additional information of 28 to 30 has no meaning");
    const unsigned size = 1U << (info - 24);
    std::uint64_t value = 0;
    for (const char one : take(size)) value = value << 8 | static_cast<unsigned char>(one);
    const std::uint64_t fits_in_less = size == 1 ? 23 : (std::uint64_t{1} << (size * 4)) - 1;
    if (value <= fits_in_less) refuse("a number is not written in the fewest bytes");
    return value;
  }

  std::string utf8(std::string_view bytes) {
    std::string text(bytes);
    try {
      nlohmann::json(text).dump();  // nlohmann checks what it writes
    } catch (const nlohmann::json::exception&) {
      refuse("a text is not UTF-8");
    }
    return text;
  }

  Item elements(Kind kind, std::uint64_t count, int depth) {
    if (depth == deepest) refuse("nested deeper than " + std::to_string(deepest));
    // Every element takes a byte at least: a count that is too large ends at the end, not in memory.
    if (count > rest_.size()) refuse("ends too early");
    if (count > most_elements) refuse("more than " + std::to_string(most_elements) + " elements");
    Item list{kind, 0, {}, {}};
    for (std::uint64_t i = 0; i < count; ++i) list.elements.push_back(item(depth + 1));
    return list;
  }

  Item map(std::uint64_t pairs, int depth) {
    if (pairs > rest_.size() / 2) refuse("ends too early");
    Item map = elements(Kind::map, pairs * 2, depth);
    for (std::size_t i = 0; i < map.elements.size(); i += 2) {
      const Item& key = map.elements[i];
      if (key.kind != Kind::text && !integer(key)) refuse("a key is neither an integer nor a text");
      for (std::size_t before = 0; before < i; before += 2) {
        if (map.elements[before] == key) refuse("a key comes twice");
      }
    }
    return map;
  }

  Item simple(unsigned info) {
    if (info == 20 || info == 21) return {Kind::boolean, info - 20, {}, {}};
    if (info == 22) return {};
    refuse(info >= 25 && info <= 27 ? "floating point is not taken" : "a simple value other than false, true and null");
  }

  std::string_view whole_, rest_;
};

template <class Matches>
const Item* value_where(const Item& map, const Matches& matches) {
  if (map.kind != Kind::map) return nullptr;
  for (std::size_t i = 0; i + 1 < map.elements.size(); i += 2) {
    if (matches(map.elements[i])) return &map.elements[i + 1];
  }
  return nullptr;
}

}  // namespace

Item read_first(std::string_view& bytes) {
  Reader reader(bytes);
  Item item = reader.item(0);
  bytes = reader.rest();
  return item;
}

Item read(std::string_view bytes) {
  std::string_view rest = bytes;
  Item item = read_first(rest);
  if (!rest.empty()) throw Malformed("CBOR: " + std::to_string(rest.size()) + " bytes follow after its end");
  return item;
}

std::optional<std::int64_t> integer(const Item& item) {
  constexpr auto largest = static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());
  if (item.argument > largest) return std::nullopt;
  if (item.kind == Kind::non_negative) return static_cast<std::int64_t>(item.argument);
  if (item.kind == Kind::negative) return -1 - static_cast<std::int64_t>(item.argument);
  return std::nullopt;
}

const Item* find(const Item& map, std::int64_t key) {
  return value_where(map, [key](const Item& one) { return integer(one) == key; });
}

const Item* find(const Item& map, std::string_view key) {
  return value_where(map, [key](const Item& one) { return one.kind == Kind::text && one.content == key; });
}

}  // namespace cellarer::access::cbor
