// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/life/load_table.hpp"
#include "model/life/set_prior.hpp"
#include "model/life/stint.hpp"
#include "model/review/set_record.hpp"

namespace cellarer::review {

/// The finished sets of a household's sides as known at `as_of`, by when they came out: what the forecast's own
/// machinery (life/set_posterior.hpp) makes of each set's readings and end, without what other sets have taught. Every
/// ended set has a record; `observed` is there where the set may teach (life/lessons.hpp: fresh, of known type,
/// settings and one unit known, at home, no fault), its readings tell one story, and they say something of its use.
std::vector<SetRecord> finished_sets(const life::Household& household, const std::string& name, Instant as_of,
                                     life::LoadTables& tables);

/// What a set's readings alone say of its use: the belief after them less the belief before, both normal.
///
///     P = after^-1 - before^-1 (of use and bias; the voltage offset keeps its prior and is integrated out)
///     log_ratio = P_use^-1 eta_use,   standard_error = P_use^-1/2,   bias_loading = P_use,bias / P_use
///
/// None where they say less than a standard error of 0.25.
std::optional<ObservedUse> observed_use(const life::SetBelief& before, const life::SetBelief& after);

}  // namespace cellarer::review
