// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

/// Reading CBOR (RFC 8949), as far as passkeys need it and no further: the form that CTAP 2 prescribes to
/// authenticators ("CTAP2 canonical CBOR encoding form"). Keys of COSE maps are integers, which JSON libraries that
/// also read CBOR turn down; hence a reader of our own, small enough to be read whole.
///
/// Taken: integers, byte and text strings, arrays, maps, false, true, null. Refused with the place and the reason:
/// anything of indefinite length, an argument not written in the fewest bytes, floating point, tags, other simple
/// values, text that is not UTF-8, a key that comes twice or is neither integer nor text, nesting deeper than four,
/// more than 128 elements or 64 pairs, and an end that comes too early. The order of a map's keys is not looked at:
/// nothing here depends on it, and there are authenticators that do not keep it.
namespace cellarer::access::cbor {

class Malformed : public std::runtime_error {
 public:
  explicit Malformed(const std::string& reason) : std::runtime_error(reason) {}
};

enum class Kind { non_negative, negative, bytes, text, array, map, boolean, null };

struct Item {
  Kind kind = Kind::null;
  std::uint64_t argument = 0;  ///< non_negative: n; negative: n of the value -1 - n; boolean: 0 or 1
  std::string content;         ///< bytes or text
  std::vector<Item> elements;  ///< array: each; map: key, value, key, value, ...
  bool operator==(const Item&) const = default;
};

/// The one item that these bytes hold, with nothing after it.
Item read(std::string_view bytes);
/// The first item; `bytes` then begins after it.
Item read_first(std::string_view& bytes);

/// An integer within 64 signed bits, none for anything else.
std::optional<std::int64_t> integer(const Item& item);
/// The value at this key; null where the item is no map or has no such key.
const Item* find(const Item& map, std::int64_t key);
const Item* find(const Item& map, std::string_view key);

}  // namespace cellarer::access::cbor
