// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/rounds/records.hpp"

/// What cannot be planned with, before anything is planned.
namespace cellarer::rounds {

struct Problem {
  std::string where;   ///< "household h-12, need 2 (cells)"
  std::string what;    ///< "its window ends on 2026-03-02, before it begins on 2026-03-09"
  std::string remedy;  ///< "give a deliver-by date that is not before the earliest"
};

/// Every problem, in the order of the input; none: plan() takes it. Looked for: a household without reference, area or
/// rounds' area, or twice; one address in two areas; quantities that are not above 0; windows that end before they
/// begin; risks outside 0 to 1 or falling; rounds without stops, in the past, with a lead time below 0, or twice; lots
/// with negative packs or twice; packs and sets of no pieces; confirmed stops and pins that name an unknown or
/// impossible stop.
std::vector<Problem> problems_of(const PlanInput& input);

/// "where: what; remedy", one sentence.
std::string sentence_of(const Problem& problem);

std::string iso(Date date);  ///< 2026-03-02

}  // namespace cellarer::rounds
