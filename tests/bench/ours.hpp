// SPDX-License-Identifier: MIT
#pragma once
#include <functional>

#include "model/life/course.hpp"
#include "model/life/set_prior.hpp"
#include "tests/bench/forecaster.hpp"
#include "tests/bench/world/simulate.hpp"

/// Our forecast as a forecaster of the field trial: the classes of model/life, moved forward by what is new. A test
/// holds it to life::forecast, which computes the same from all records at once; only what the other side's ended set
/// teaches counts there at once, and here from the next set on.
namespace cellarer::bench {

struct OurOptions {
  /// What it is given of the truth, to split the gap to the best possible: changes what is believed of a set before its
  /// first reading. None: nothing.
  std::function<void(const SetCourse& truth, const life::Course& nominal, life::SetPrior& prior, cell::Profile& cell)>
      truth;
};

MakeForecaster our_forecaster(const OurOptions& options);

}  // namespace cellarer::bench
