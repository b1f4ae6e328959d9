// SPDX-License-Identifier: MIT
#pragma once
/// Catch2 of Debian 12 (version 2) or of Debian 13 (version 3): the same words for both.
#include <string>

#if CELLARER_CATCH2_VERSION == 3
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif

namespace cellarer::testing {

/// Matches a text that holds `part`.
inline auto holds(const std::string& part) {
#if CELLARER_CATCH2_VERSION == 3
  return Catch::Matchers::ContainsSubstring(part);
#else
  return Catch::Matchers::Contains(part);
#endif
}

}  // namespace cellarer::testing
