// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>

#include "tests/bench/events.hpp"

namespace cellarer::bench {

/// A number in [0, 1) that belongs to one side's evening, for choosing samples and for randomising where a belief has
/// an atom: the same for every forecaster and every order of computing (the finaliser of SplitMix64, Steele and others,
/// "Fast splittable pseudorandom number generators", 2014).
inline double chance_of(const Evening& evening, std::uint64_t purpose) {
  const auto mix = [](std::uint64_t z) {
    z += 0x9e3779b97f4a7c15;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
    z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
    return z ^ (z >> 31);
  };
  const auto second = static_cast<std::uint64_t>(evening.at.time_since_epoch().count());
  const auto who = 2 * static_cast<std::uint64_t>(evening.household) + (evening.side == Side::left ? 0 : 1);
  return static_cast<double>(mix(mix(mix(purpose) ^ who) ^ second) >> 11) * 0x1p-53;
}

}  // namespace cellarer::bench
