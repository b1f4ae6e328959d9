// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/life/set_story.hpp"

namespace cellarer::life {

/// Why the forecast is what it is, as plain sentences, each a term of the computation: settings that changed lately,
/// what this side has taught, what this set's readings say, what is not known. Strongest first, at most four.
std::vector<std::string> reasons(const Household& household, Side side, Instant as_of, const Stint& stint,
                                 const CellsInSide& cells, const SetStory& story, int sets_seen);

}  // namespace cellarer::life
