// SPDX-License-Identifier: MIT
#include "server/json/utf8.hpp"

namespace cellarer::json {

namespace {

/// The length of the character that begins there (RFC 3629, section 4); 0: none does.
std::size_t character_at(std::string_view bytes, std::size_t at) {
  const auto byte = [&](std::size_t i) {
    return at + i < bytes.size() ? static_cast<unsigned char>(bytes[at + i]) : 0U;
  };
  const auto within = [&](std::size_t i, unsigned low, unsigned high) { return byte(i) >= low && byte(i) <= high; };
  const auto tail = [&](std::size_t i) { return within(i, 0x80, 0xBF); };
  const unsigned first = byte(0);
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first <= 0xDF) return tail(1) ? 2 : 0;
  if (first >= 0xE0 && first <= 0xEF) {
    const unsigned low = first == 0xE0 ? 0xA0 : 0x80, high = first == 0xED ? 0x9F : 0xBF;
    return within(1, low, high) && tail(2) ? 3 : 0;
  }
  if (first >= 0xF0 && first <= 0xF4) {
    const unsigned low = first == 0xF0 ? 0x90 : 0x80, high = first == 0xF4 ? 0x8F : 0xBF;
    return within(1, low, high) && tail(2) && tail(3) ? 4 : 0;
  }
  return 0;
}

}  // namespace

std::optional<std::size_t> first_not_utf8(std::string_view bytes) {
  for (std::size_t at = 0; at < bytes.size();) {
    if (static_cast<unsigned char>(bytes[at]) < 0x80) {
      ++at;
      continue;
    }
    const auto length = character_at(bytes, at);
    if (length == 0) return at;
    at += length;
  }
  return std::nullopt;
}

std::string_view whole_characters(std::string_view text) {
  const auto bad = first_not_utf8(text);
  return bad ? text.substr(0, *bad) : text;
}

}  // namespace cellarer::json
