// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/life/forecast.hpp"
#include "model/life/stint.hpp"

namespace cellarer::life {

/// What is planned or going on, as far as it moves this side's forecast: a sentence each.
void say_plans(std::vector<std::string>& said, const Household& household, Side side, Instant as_of,
               const Stint& stint);

}  // namespace cellarer::life
