// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/cell/family.hpp"
#include "model/cell/profile.hpp"
#include "model/cell/published.hpp"

/// What is believed of a cell before its discharge is replayed. Every function is handed a family prior that was
/// learned without the cell's brand, and sees no row of the cell itself unless it says so.
namespace cellarer::bench {

inline constexpr double real_cell_end_V = 0.90;  ///< under load: life ends here

std::vector<cell::Discharge> rows_of(const cell::PublishedCell& cell, const std::string& specimen);
std::vector<std::string> specimens_of(const cell::PublishedCell& cell);

/// Brand known: the fit to the other specimen's rows, with the contacts that it finds in series.
cell::Profile profile_from_specimen(const cell::PublishedCell& cell, const std::string& other_specimen,
                                    const cell::FamilyPrior& prior);

/// Brand unknown: the family's file made again, the hours of the prior's mean curve fitted as any file is; with these
/// contacts in series.
cell::Profile profile_of_family(cell::PublishedCell family, const cell::FamilyPrior& prior, double contacts_ohm);

/// Brand unknown, as a peer of the forecast: the whole cell model, 23 parameters under the family's covariance, fitted
/// to the rows that this cell has passed at this current by `now_h`. Its life [h], not before now.
double refitted_life_h(const cell::PublishedCell& cell, const std::string& specimen, double current_mA, double now_h,
                       const cell::FamilyPrior& prior);

/// Brand unknown, as a peer without physics: ridge regression (model/numerics/ridge.hpp) of the log hours of life on
/// the log hours of the levels that this cell has passed at this current by `now_h`, learned from the discharges of the
/// other brands among `cells`. Its life [h], not before now.
double regressed_life_h(const std::vector<cell::PublishedCell>& cells, const cell::PublishedCell& cell,
                        const std::string& specimen, double current_mA, double now_h);

}  // namespace cellarer::bench
