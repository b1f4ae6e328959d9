// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include "tests/bench/world/world.hpp"

/// When each side of a household really paces, with which settings and which unit, and what of it is told.
namespace cellarer::bench {

/// A stretch of time without a change of anything. Changing times are ends of stretches.
struct DutyStretch {
  Instant from, to;
  bool pacing;           ///< else standby
  std::size_t unit;      ///< 0 or 1
  std::size_t settings;  ///< of DutyTruth::settings of the side
  std::size_t day;       ///< whole days since the first evening
  std::size_t evening;   ///< index of the changing time that this stretch ends at; `no_evening` if none
};
inline constexpr std::size_t no_evening = static_cast<std::size_t>(-1);

struct DutyTruth {
  std::vector<Instant> changing_times;  ///< from the first evening on, beyond the last night by three lives of a set
  std::array<std::vector<duty::Settings>, 2> settings;  ///< of each side, by time, the first day's first
  std::array<std::vector<DutyStretch>, 2> stretches;    ///< of each side, from the first evening on, without gaps
  std::vector<life::UnitInUse> units;                   ///< as told; the first day's first
  std::vector<duty::PacedInstead> told_longer;          ///< spells of longer pacing that were recorded, as they began
};

/// Drawn from (seed, household). Settings and spells become true at noon. The clockwork from settings to hours
/// (daylight saving included) is model/duty's.
DutyTruth duty_truth(const World& world, std::uint64_t seed, std::size_t household);

}  // namespace cellarer::bench
