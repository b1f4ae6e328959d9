// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/life/learning.hpp"
#include "model/life/stint.hpp"

namespace cellarer::life {

/// By how much faster (log of the ratio of currents while pacing) a unit at some settings runs cells down than one at
/// others: by their profiles, and by what has been learned of this side, as the forecast takes it.
struct UnitAtSettings {
  std::size_t unit;  ///< index into the household's
  const duty::Settings& settings;
};
double log_faster(const Household& household, const Learning& learning, Side side, const UnitAtSettings& before,
                  const UnitAtSettings& after);

/// What is planned or going on, as far as it moves this side's forecast: a sentence each.
void say_plans(std::vector<std::string>& said, const Household& household, Side side, Instant as_of, const Stint& stint,
               const Learning& learning);

}  // namespace cellarer::life
