// SPDX-License-Identifier: MIT
#include <charconv>
#include <cstdint>

#include "server/json/field.hpp"

namespace cellarer::json {

namespace {

/// Builds the document, and refuses on the way what nlohmann's own builder lets pass: what is nested too deep, and a
/// key that its object has already. With a callback its builder could refuse them too, and took half as long again.
class Builder final : public nlohmann::json_sax<nlohmann::json> {
 public:
  explicit Builder(std::string_view text) : text_(text) { open_.reserve(8); }

  nlohmann::json document() { return std::move(document_); }

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(value); }
  bool binary(binary_t& value) override { return put(value); }
  bool start_object(std::size_t) override { return open(nlohmann::json::object()); }
  bool end_object() override { return close(); }
  bool start_array(std::size_t) override { return open(nlohmann::json::array()); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    refuse_too_deep();
    const auto [member, is_new] = open_.back()->get_ref<nlohmann::json::object_t&>().try_emplace(name);
    if (!is_new)
      throw Refused("duplicate", "",
                    "gives " + nlohmann::json(name).dump() + " twice in one object: keep one of the two");
    member_ = &member->second;
    return true;
  }

  bool parse_error(std::size_t octet, const std::string&, const nlohmann::json::exception& error) override {
    if (dynamic_cast<const nlohmann::json::out_of_range*>(&error) != nullptr)
      throw Refused("not-json", "", "holds a number that does not fit");
    std::size_t line = 1, column = 1;
    for (std::size_t i = 0; i + 1 < octet && i < text_.size(); ++i) {
      if (text_[i] == '\n')
        ++line, column = 1;
      else
        ++column;
    }
    throw Refused("not-json", "", "is not JSON: line " + std::to_string(line) + ", column " + std::to_string(column));
  }

 private:
  static constexpr std::size_t deepest = 32;

  void refuse_too_deep() const {
    if (open_.size() > deepest)
      throw Refused("not-json", "", "is nested deeper than " + std::to_string(deepest) + " levels");
  }

  /// Where the next value stands: the whole document, an element, or the member whose key was last.
  nlohmann::json& next() {
    refuse_too_deep();
    if (open_.empty()) return document_;
    return open_.back()->is_array() ? open_.back()->emplace_back() : *member_;
  }

  template <class Value>
  bool put(Value&& value) {
    next() = std::forward<Value>(value);
    return true;
  }

  bool open(nlohmann::json&& empty) {
    nlohmann::json& here = next();
    here = std::move(empty);
    open_.push_back(&here);
    return true;
  }

  bool close() {
    open_.pop_back();
    return true;
  }

  std::string_view text_;
  nlohmann::json document_;
  std::vector<nlohmann::json*> open_;  ///< objects and arrays, the innermost last
  nlohmann::json* member_ = nullptr;
};

/// Reads what nearly all documents are made of: letters of ASCII without a backslash, numbers of usual length, no key
/// twice, nothing deep. Of anything else, and of what is no JSON, it says nothing: that is nlohmann's to read or
/// refuse, which takes three times as long.
class PlainReader {
 public:
  explicit PlainReader(std::string_view text) : at_(text.data()), end_(text.data() + text.size()) {}

  std::optional<nlohmann::json> document() {
    nlohmann::json document;
    if (!value(document, 0)) return std::nullopt;
    skip_space();
    return at_ == end_ ? std::optional(std::move(document)) : std::nullopt;
  }

 private:
  static constexpr int deepest = 24;
  static constexpr std::ptrdiff_t most_digits = 18;  // each such number fits 64 bits

  const char* at_;
  const char* end_;

  void skip_space() {
    while (at_ != end_ && (*at_ == ' ' || *at_ == '\n' || *at_ == '\t' || *at_ == '\r')) ++at_;
  }
  bool take(char letter) {
    if (at_ == end_ || *at_ != letter) return false;
    ++at_;
    return true;
  }
  bool take(std::string_view word) {
    if (std::string_view(at_, static_cast<std::size_t>(end_ - at_)).substr(0, word.size()) != word) return false;
    at_ += word.size();
    return true;
  }

  bool value(nlohmann::json& into, int depth) {
    skip_space();
    if (at_ == end_ || depth > deepest) return false;
    switch (*at_) {
      case '{':
        return object(into, depth);
      case '[':
        return array(into, depth);
      case '"': {
        std::string_view letters;
        if (!text(letters)) return false;
        into = letters;
        return true;
      }
      case 't':
        into = true;
        return take("true");
      case 'f':
        into = false;
        return take("false");
      case 'n':
        return take("null");
      default:
        return number(into);
    }
  }

  bool object(nlohmann::json& into, int depth) {
    into = nlohmann::json::object();
    auto& members = into.get_ref<nlohmann::json::object_t&>();
    ++at_;
    skip_space();
    if (take('}')) return true;
    do {
      skip_space();
      std::string_view key;
      if (!text(key)) return false;
      skip_space();
      if (!take(':')) return false;
      // Most were written in the order of their keys.
      const auto before = members.size();
      const auto member = members.try_emplace(members.end(), std::string(key));
      if (members.size() == before || !value(member->second, depth + 1)) return false;
      skip_space();
    } while (take(','));
    return take('}');
  }

  bool array(nlohmann::json& into, int depth) {
    into = nlohmann::json::array();
    auto& elements = into.get_ref<nlohmann::json::array_t&>();
    ++at_;
    skip_space();
    if (take(']')) return true;
    do {
      if (!value(elements.emplace_back(), depth + 1)) return false;
      skip_space();
    } while (take(','));
    return take(']');
  }

  bool text(std::string_view& letters) {
    if (!take('"')) return false;
    const char* begin = at_;
    while (at_ != end_ && *at_ != '"') {
      const auto octet = static_cast<unsigned char>(*at_);
      if (octet == '\\' || octet < ' ' || octet > '~') return false;
      ++at_;
    }
    letters = {begin, static_cast<std::size_t>(at_ - begin)};
    return take('"');
  }

  std::ptrdiff_t digits() {
    const char* begin = at_;
    while (at_ != end_ && *at_ >= '0' && *at_ <= '9') ++at_;
    return at_ - begin;
  }

  bool number(nlohmann::json& into) {
    const char* begin = at_;
    const bool negative = take('-');
    const char* first = at_;
    const auto whole = digits();
    if (whole == 0 || whole > most_digits || (*first == '0' && (whole > 1 || negative))) return false;
    if (at_ == end_ || (*at_ != '.' && *at_ != 'e' && *at_ != 'E')) {
      std::int64_t number = 0;
      std::from_chars(begin, at_, number);
      if (negative)
        into = number;
      else
        into = static_cast<std::uint64_t>(number);
      return true;
    }
    if (take('.') && digits() == 0) return false;
    if (take('e') || take('E')) {
      if (!take('-')) take('+');
      if (digits() == 0) return false;
    }
    double number = 0;
    const auto [to, error] = std::from_chars(begin, at_, number);
    into = number;
    return error == std::errc() && to == at_;
  }
};

}  // namespace

nlohmann::json parse(std::string_view text) {
  if (auto plain = PlainReader(text).document()) return *std::move(plain);
  Builder builder(text);
  nlohmann::json::sax_parse(text, &builder);
  return builder.document();
}

}  // namespace cellarer::json
