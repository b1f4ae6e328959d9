// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/cell/family.hpp"

namespace cellarer::commands {

/// The prior as the source file model/cell/lr6_prior.cpp, whole. It stands in the program, not in a file beside
/// it, because the model reads no files and no fit may depend on which folder it was started from.
std::string prior_source(const cell::FamilyPrior& prior);

}  // namespace cellarer::commands
