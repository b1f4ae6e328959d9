// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/duty/stimulator.hpp"

namespace cellarer::life {

/// What a unit's gauge shows for a voltage of the set, in percent, between the profile's points by straight
/// lines. Beyond them the end slopes go on (a set above the 100 % point reads 104 here and 100 on the unit),
/// because a clipped scale would hide how far beyond it is: clipping belongs to the reading, not to the state.
double gauge_percent(const duty::Gauge& gauge, double set_V);

/// What the gauge shows, and its slope there [points of percent per volt], > 0.
struct GaugeShown {
  double percent, slope;
};

/// The same gauge for who asks often: its lines with their slopes.
class GaugeLines {
 public:
  explicit GaugeLines(const duty::Gauge& gauge);

  GaugeShown shown(double set_V) const {
    const Line* line = lines_.data();
    while (set_V < line->down_to_V) ++line;
    return {line->high_percent + (set_V - line->high_V) * line->slope, line->slope};
  }

 private:
  struct Line {
    double down_to_V, high_percent, high_V, slope;
  };
  std::vector<Line> lines_;  ///< of falling voltage; the last one goes down to anything
};

/// The voltage of the set at which it shows that: the inverse of gauge_percent.
double gauge_volts(const duty::Gauge& gauge, double percent);

/// What a reading says of the unclipped scale: somewhere in [low, high]; ends may be infinite.
struct PercentSpan {
  double low, high;
};

/// "62 %" is 61.5 to 62.5; "100 %" is anything from 99.5, "0 %" anything up to 0.5.
PercentSpan span_of_percent(double percent);

/// Step k of N is 100 (k-1)/N to 100 k/N; the highest is open above, step 0 is below nought.
PercentSpan span_of_step(int step, int of);

}  // namespace cellarer::life
