// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "model/duty/stimulator.hpp"
#include "model/life/records.hpp"

namespace cellarer::life {

/// A reading in the terms of the grid: a span on a scale.
struct Observation {
  enum class Scale { gauge, volts };
  Instant at;
  Condition condition = Condition::pacing;
  Scale scale = Scale::gauge;
  double low = 0, high = 0;  ///< points of percent, or volts of the set; equal for a point
  double white_sd = 0;       ///< of the reader's own noise, in the same scale
  bool warning = false;      ///< the unit's own warning: a threshold crossed, acted on at once

  bool same_as(const Observation& other) const {
    return at == other.at && condition == other.condition && scale == other.scale && low == other.low &&
           high == other.high && white_sd == other.white_sd;
  }
};

/// What a reading says about the set in a unit; none where it says nothing about the cells' charge (a side that
/// stopped is an end, not a reading). A gauge just after switching on, where the profile says that it then reads high,
/// gives a bound from above. A gauge that latches shows the lowest of its pacing whatever the unit does now; after the
/// amplitude was lowered that is less than it would show, which is the earlier date.
/// A voltmeter and the eye of a half-asleep person: a percentage is taken with 1 point of white noise, volts of the
/// set with 15 mV (1 % meters and rounding to 0.01 V; common practice, no source).
std::optional<Observation> observation_of(const Reading& reading, const duty::Stimulator& unit);

}  // namespace cellarer::life
