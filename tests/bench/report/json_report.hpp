// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "tests/bench/report/verdicts.hpp"

namespace cellarer::bench {

/// The figures as a JSON document: fractions, not per cent. What is NaN, for want of nights, is written out as null.
nlohmann::ordered_json json_of(const TrialResults& results, const Figures& figures);

}  // namespace cellarer::bench
