// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/peers/given_truth.hpp"
#include "tests/bench/trial/trial.hpp"

namespace cellarer::bench {

/// Ours given the truth of one thing at a time (given_truth.hpp): what is believed of a set before its first reading is
/// conditioned on it, so that what had been seen to go together with it moves along.
std::vector<Contestants::Given> ours_given_the_truth();

}  // namespace cellarer::bench
