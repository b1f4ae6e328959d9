// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

/// What the fuzz targets share. Each target is a program of libFuzzer: it makes up input, keeps what reaches new code,
/// and stops at a crash, a sanitizer's report, an exception that a reader should not throw, or a broken promise below.
namespace cellarer::fuzz {

/// A promise of the reader; broken, it is a finding.
inline void must(bool holds) {
  if (!holds) std::abort();
}

/// The first byte chooses among `count` readers, the rest is their input.
inline std::size_t choose(std::string_view& bytes, std::size_t count) {
  if (bytes.empty()) return 0;
  const auto chosen = static_cast<unsigned char>(bytes.front()) % count;
  bytes.remove_prefix(1);
  return chosen;
}

inline std::string_view as_text(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

}  // namespace cellarer::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
