// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/learning.hpp"
#include "tests/support/life_world.hpp"

/// For tests of what sets teach.
namespace cellarer::testing {

/// A household whose courses begin where its units do.
struct Taught {
  World world;

  life::Course course(Instant from, Side side = Side::left) const {
    return {world.household, side, from, from + 24h * 60};
  }
  const cell::Profile& cell(const char* id = "lr6-plain") const { return world.household.cell_profiles.at(id); }
  void amplitude(double to) {
    for (auto& settings : world.household.settings) settings.amplitude = to;
  }
};

/// A lesson that says exactly what the set's use was, and of bias and offset nothing new.
inline life::SetLesson use_was(const life::SetPrior& prior, double log_use) {
  life::SetLesson lesson;
  lesson.belief = prior.belief;
  lesson.belief.mean[life::row_use] = log_use;
  lesson.belief.cov(life::row_use, life::row_use) = 0;
  return lesson;
}

inline double mean_use(const life::SetPrior& prior) { return prior.belief.mean[life::row_use]; }
inline double use_variance(const life::SetPrior& prior) { return prior.belief.cov(life::row_use, life::row_use); }

}  // namespace cellarer::testing
