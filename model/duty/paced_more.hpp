// SPDX-License-Identifier: MIT
#pragma once
#include "model/duty/settings.hpp"

namespace cellarer::duty {

/// The settings of one side with the amplitude in fact: while `more` lasts, the higher of the two. `settings` by time;
/// the answer too. Settings begin anew where the amplitude rises or falls, their growth goes on.
std::vector<Settings> with_raised_amplitude(const std::vector<Settings>& settings, const std::vector<PacedMore>& more);

}  // namespace cellarer::duty
