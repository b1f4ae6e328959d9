// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/life/set_story.hpp"

namespace cellarer::life {

/// Why the forecast is what it is, as plain sentences, each a term of the computation: settings that changed lately,
/// what earlier sets have taught, what this set's readings say, what is not known. Strongest first, at most four.
/// How much faster or slower is what the forecast counts with: by the profile and by what `learning` holds.
std::vector<std::string> reasons(const Household& household, Side side, Instant as_of, const Stint& stint,
                                 const CellsInSide& cells, const SetStory& story, const Learning& learning);

}  // namespace cellarer::life
