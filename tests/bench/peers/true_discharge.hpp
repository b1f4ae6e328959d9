// SPDX-License-Identifier: MIT
#pragma once
#include <array>

#include "model/duty/timeline.hpp"
#include "tests/bench/world/world.hpp"

namespace cellarer::bench {

/// How a fresh set of one household's side runs down in truth, for a forecaster that knows the generator: the world's
/// own tables of the true cells, with the set's deviations left open.
///
/// Progress h is counted in hours of pacing at use 1 and nominal capacity: it moves by e^theta an hour, where
/// theta = k log use - log capacity is all that a set's use and capacity do (LoadTable). Hours of standby count for as
/// much less as they draw less, on the average over the charge.
class TrueDischarge {
 public:
  TrueDischarge(const World& world, const Brand& brand, std::size_t like_household, const duty::Settings& settings,
                double burst_share);

  double exponent() const { return pacing_.exponent(); }  ///< k
  double hours_to_cutoff() const { return hours_to_cutoff_; }
  /// What the gauge's scale reads while pacing, in percent, without its error and unclipped.
  double scale_percent(double progress_h) const;

  /// Counts the progress at theta = 0 from `in` on, for `days` days.
  duty::ChargeClock clock(Zone zone, Instant in, int days) const;

 private:
  duty::Stimulator unit_;
  duty::Settings settings_;
  LoadTable pacing_, standby_;
  double hours_to_cutoff_, standby_share_;
};

}  // namespace cellarer::bench
