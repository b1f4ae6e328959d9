// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <iosfwd>
#include <string>
#include <vector>

#include "tests/bench/trial/results.hpp"

namespace cellarer::bench {

inline std::string whole(std::uint64_t count) { return std::to_string(count); }

/// What each run cost and how often sides ran out in it.
void print_runs(std::ostream& out, const std::string& title, const std::vector<NamedRun>& runs);

/// Why sets came out; beside each cause of a stop the 95 % Poisson bound of its rate.
void print_causes(std::ostream& out, const std::string& title, const std::vector<NamedRun>& runs);

/// Ours where sides pace longer than planned, on record and not.
void print_plans(std::ostream& out, const std::vector<NamedRun>& runs);

}  // namespace cellarer::bench
