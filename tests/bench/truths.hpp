// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/trial/trial.hpp"

namespace cellarer::bench {

/// Ours given the truth of one thing at a time, so that the gap to the best possible is split. Of each set:
///   cell   the charge that it gives to cut-off
///   gauge  the mean of what its gauge shows too much, over all its evenings
///   use    what it draws over the profile, on average over its life
/// The plan is known as it is in the reference world: nothing there departs from it.
std::vector<Contestants::Given> ours_given_the_truth();

}  // namespace cellarer::bench
