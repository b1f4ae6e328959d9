// SPDX-License-Identifier: MIT
#pragma once
#include <array>

namespace cellarer {

/// The two halves that a unit paces. There is no "both" and no default: whoever records says which.
enum class Side { left, right };

inline constexpr std::array<Side, 2> both_sides{Side::left, Side::right};

constexpr const char* name_of(Side side) { return side == Side::left ? "left" : "right"; }

}  // namespace cellarer
