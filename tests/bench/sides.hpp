// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>

#include "model/quantities/side.hpp"

namespace cellarer::bench {

/// Place of a side in arrays of two.
constexpr std::size_t index_of(Side side) { return side == Side::left ? 0 : 1; }

constexpr Side other(Side side) { return side == Side::left ? Side::right : Side::left; }

}  // namespace cellarer::bench
