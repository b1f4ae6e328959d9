// SPDX-License-Identifier: MIT
#pragma once
#include <array>

#include "tests/bench/world/electronics.hpp"
#include "tests/bench/world/spec.hpp"

/// A world's unit and how its household is set: invented, of no maker.
namespace cellarer::bench {

/// The unit's electronics, not yet its gauge.
duty::Stimulator bare_unit(const WorldSpec& spec);

/// Settings of both sides from long ago on: 12 breaths a minute, inspiration 0.3 of the breath, and hours so that a set
/// of this cell lasts `spec.set_life_days` with no deviation; where 24 hours do not use it up, a higher amplitude.
/// The hours lie in one span that ends at 07:00 and begins at 20:00 or earlier, so that an evening finds the side
/// pacing.
std::array<duty::Settings, 2> settings_for(const WorldSpec& spec, const duty::Stimulator& unit,
                                           const DischargeTable& cell, double burst_share);

/// Volts at percent such that percent is the share of the charge left, at these settings of the left side.
std::vector<std::pair<double, double>> scale_for(const duty::Stimulator& unit, const duty::Settings& settings,
                                                 const DischargeTable& cell, double burst_share);

/// The same scale, read both ways; straight lines between the points, and beyond them.
double percent_at(const std::vector<std::pair<double, double>>& volts_at_percent, double set_V);
double volts_at(const std::vector<std::pair<double, double>>& volts_at_percent, double percent);

}  // namespace cellarer::bench
