// SPDX-License-Identifier: MIT
#pragma once
#include <stdexcept>
#include <string>
#include <string_view>

namespace cellarer::tests {

/// The bytes that published vectors print as hexadecimal digits; spaces are left out.
inline std::string from_hex(std::string_view digits) {
  const auto value = [](char digit) -> int {
    if (digit >= '0' && digit <= '9') return digit - '0';
    if (digit >= 'a' && digit <= 'f') return digit - 'a' + 10;
    if (digit >= 'A' && digit <= 'F') return digit - 'A' + 10;
    throw std::invalid_argument(std::string("no hexadecimal digit: ") + digit);
  };
  std::string bytes;
  int high = -1;
  for (const char digit : digits) {
    if (digit == ' ') continue;
    if (high < 0) {
      high = value(digit);
    } else {
      bytes += static_cast<char>(high * 16 + value(digit));
      high = -1;
    }
  }
  if (high >= 0) throw std::invalid_argument("half a byte is left over");
  return bytes;
}

inline std::string hex(std::string_view bytes) {
  std::string digits;
  for (const char byte : bytes) {
    digits += "0123456789abcdef"[static_cast<unsigned char>(byte) >> 4];
    digits += "0123456789abcdef"[static_cast<unsigned char>(byte) & 15];
  }
  return digits;
}

}  // namespace cellarer::tests
