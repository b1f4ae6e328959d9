// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>

#include "tests/bench/report/verdicts.hpp"

namespace cellarer::bench {

/// The whole report in plain text: targets with verdicts, then the details.
void print_targets(std::ostream& out, const std::vector<TargetRow>& rows);
void print_details(std::ostream& out, const TrialResults& results);

/// The picture of the curves, panels for sets of 7, 12 and 20 days (curve_picture.hpp).
std::string picture_of(const TrialResults& results);

}  // namespace cellarer::bench
