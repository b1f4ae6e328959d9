// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>

#include "tests/bench/events.hpp"
#include "tests/bench/sides.hpp"
#include "tests/bench/world/draws.hpp"

namespace cellarer::bench {

/// A number in [0, 1) that belongs to one side's evening, for choosing samples and for randomising where a belief has
/// an atom: the same for every forecaster and every order of computing (split_mix of draws.hpp).
inline double chance_of(const Evening& evening, std::uint64_t purpose) {
  const auto mix = [](std::uint64_t z) { return split_mix(z + split_mix_golden); };
  const auto second = static_cast<std::uint64_t>(evening.at.time_since_epoch().count());
  const auto who = 2 * static_cast<std::uint64_t>(evening.household) + index_of(evening.side);
  return static_cast<double>(mix(mix(mix(purpose) ^ who) ^ second) >> 11) * 0x1p-53;
}

}  // namespace cellarer::bench
