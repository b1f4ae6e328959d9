// SPDX-License-Identifier: MIT
#include "model/life/set_prior.hpp"

#include "model/quantities/square.hpp"

namespace cellarer::life {

namespace {

constexpr double intermittent_width = 1.10;
/// Of what a type's curve is off at its end, so much of the variance shows in no reading of sets that come out in time:
/// within a brand the log hours to 0.9 V correlate with those to 1.1 and 1.0 V by 0.42 and 0.84 (DEVELOPERS.md, 4.3),
/// and the last readings lie between these; 1 - r^2 is 0.82 and 0.29. No set teaches it.
constexpr double unseen_share = 0.6;
/// Cells that a profile takes to be all alike are so to one in a thousand.
constexpr double least_variance = 1e-6;

}  // namespace

double own_capacity_log_sd(const cell::Spread& spread, int cells_in_series, double stored_log_sd) {
  const double variance = square(spread.specimen_log_sd) / cells_in_series + square(spread.lot_log_sd) +
                          square(spread.brand_log_sd) + square(stored_log_sd) +
                          unseen_share * square(spread.fit_log_sd);
  return intermittent_width * std::sqrt(variance + least_variance);
}

double type_capacity_log_sd(const cell::Spread& spread) {
  return intermittent_width * std::sqrt(1 - unseen_share) * spread.fit_log_sd;
}

}  // namespace cellarer::life
