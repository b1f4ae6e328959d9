// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

/// The bytes of a string as the libraries of cryptography want them.
namespace cellarer {

inline const unsigned char* octets(std::string_view bytes) {
  return reinterpret_cast<const unsigned char*>(bytes.data());
}
inline unsigned char* octets(std::string& bytes) { return reinterpret_cast<unsigned char*>(bytes.data()); }

}  // namespace cellarer
