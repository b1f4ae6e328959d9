// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "model/rounds/records.hpp"

/// The same question put to general solvers, which are run as programs: CBC and GLPK (glpsol), where they are
/// installed.
///
///     minimise  sum x    every need of an address: sum of x over its window >= 1,   every round's column: sum of x <=
///     limit
namespace cellarer::bench {

struct PeerAnswer {
  std::string name;
  bool installed = false, finished = false;  ///< finished: proven best within the limit of seconds
  std::optional<double> value;               ///< visits, of what was found
  double seconds = 0;
};

/// The program in CPLEX LP form; relaxed: x from 0 to 1 in place of 0 or 1.
std::string as_program(const rounds::PlanInput& input, bool relaxed);

PeerAnswer ask_cbc(const rounds::PlanInput& input, int seconds, bool relaxed);
PeerAnswer ask_glpk(const rounds::PlanInput& input, int seconds, bool relaxed);

}  // namespace cellarer::bench
