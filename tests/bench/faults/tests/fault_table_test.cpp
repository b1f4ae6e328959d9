// SPDX-License-Identifier: MIT
// The table of simulated faults holds: each row against the target of the issue. The short form tries few homes and
// allows for their number; the long one is what README prints. Seeds 1 to 9 chose the limits, so none of them is here.
#include "tests/bench/faults/fault_figures.hpp"
#include "tests/bench/faults/further_scenarios.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;
using Aim = FaultRow::Aim;

namespace {

const Done nobody_watches = [](double) {};

/// What these come to has no target: they hold what README printed of a thousand homes (seed 21), less three standard
/// errors of that count.
void hold_what_was(const FurtherFigures& further) {
  CHECK(borne_out(further.drift_within_8, Aim::at_least, 0.692));
  CHECK(borne_out(further.drift_within_12, Aim::at_least, 0.943));
  CHECK(borne_out(further.asymmetry_within_4, Aim::at_least, 0.572));
  CHECK(borne_out(further.asymmetry_within_8, Aim::at_least, 0.644));
  CHECK(borne_out(further.units_found, Aim::at_least, 0.340));
  CHECK(borne_out(further.false_units, Aim::at_most, 0.013));
}

/// "cannot tell" where the evidence does not allow it: the rule of nine in ten.
void hold_what_cannot_be_told(const FurtherFigures& further) {
  CHECK(borne_out(further.drift_cannot_tell, Aim::at_least, 0.9));
  CHECK(borne_out(further.asymmetry_cannot_tell, Aim::at_least, 0.9));
}

std::vector<std::string> not_borne_out(const FaultFigures& figures) {
  std::vector<std::string> missed;
  for (const auto& row : rows_of(figures)) {
    if (!borne_out(row.share, row.aim, row.bound)) missed.push_back(row.what);
  }
  return missed;
}

bool misses(const FaultFigures& figures, const std::string& what) {
  const auto missed = not_borne_out(figures);
  return std::any_of(missed.begin(), missed.end(), [&](const auto& one) { return one.find(what) != one.npos; });
}

}  // namespace

TEST_CASE("a short trial bears a target out by the binomial distribution") {
  // Of 10 tosses of a fair coin none shows heads once in 1024, so many as one once in 93 (11 / 1024).
  CHECK_FALSE(borne_out({0, 10}, Aim::at_least, 0.5, 2.0 / 1024));
  CHECK(borne_out({0, 10}, Aim::at_least, 0.5, 0.5 / 1024));
  CHECK(borne_out({1, 10}, Aim::at_least, 0.5, 10.5 / 1024));
  CHECK_FALSE(borne_out({1, 10}, Aim::at_least, 0.5, 11.5 / 1024));
  CHECK_FALSE(borne_out({10, 10}, Aim::at_most, 0.5, 2.0 / 1024));
  CHECK(borne_out({10, 10}, Aim::at_least, 0.5, 2.0 / 1024));
  CHECK_FALSE(borne_out({10, 10}, Aim::about, 0.5, 2.0 / 1024));
  CHECK_FALSE(borne_out({0, 0}, Aim::at_most, 0.5));
}

TEST_CASE("simulated faults: every row of the issue's table, with few homes") {
  FaultTrialSize size;
  size.seed = 31;
  size.homes = 120;
  const auto figures = try_faults(size, nobody_watches);
  for (const auto& row : rows_of(figures)) {
    INFO(row.what << ": " << row.target << ", found " << row.found);
    CHECK(borne_out(row.share, row.aim, row.bound));
  }
  for (const auto& cause : figures.causes) {
    INFO(cause.scenario << ": found in " << cause.right.tried << " of " << cause.homes << ", named right in "
                        << cause.right.hits << ", cannot tell in " << cause.cannot_tell.hits);
    CHECK(cause.right.tried > 0);
    if (!cause.evidence_allows) CHECK(borne_out(cause.cannot_tell, Aim::at_least, 0.9));
  }
  const auto further = try_further(size, nobody_watches);
  hold_what_was(further);
  hold_what_cannot_be_told(further);
}

TEST_CASE("a review that finds nothing, one that finds everything, and one that names what it guesses miss the table") {
  FaultTrialSize size;
  size.seed = 31;
  size.homes = 40;
  size.limits.raise_odds = 1e6;
  size.limits.lot_raise_odds = 1e30;
  const auto blind = try_faults(size, nobody_watches);
  CHECK(misses(blind, "noise 4 %: found within 4 sets"));
  CHECK(misses(blind, "noise 6 %: found within 4 sets"));
  CHECK(misses(blind, "lot 12 % short, 6 homes with 2 sets each: found"));
  size.limits = {};
  size.limits.raise_odds = 0.02;
  size.limits.lot_raise_odds = 0.01;
  size.limits.name_at = 0.2;
  const auto credulous = try_faults(size, nobody_watches);
  CHECK(misses(credulous, "healthy sets, noise 4 %"));
  CHECK(misses(credulous, "the same, noise 6 %"));
  CHECK(misses(credulous, "healthy lots"));
  CHECK(misses(credulous, "\"cannot tell\" where it does not"));
}

TEST_CASE("simulated faults: the table that README prints", "[.long][long]") {
  FaultTrialSize size;
  size.seed = 21;
  const auto figures = try_faults(size, nobody_watches);
  for (const auto& row : rows_of(figures)) {
    INFO(row.what << ": " << row.target << ", found " << row.found);
    CHECK(row.enough);
    CHECK(row.met);
  }
  const auto further = try_further(size, nobody_watches);
  hold_what_was(further);
  hold_what_cannot_be_told(further);
  CHECK(further.drift_cannot_tell.tried > size.homes / 2);
}
