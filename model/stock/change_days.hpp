// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "model/stock/renewal.hpp"

/// The days on which cells will be changed, both sides, with the policy in it.
///
/// The model, chosen simple and on the side that uses more cells:
/// - A fresh set is planned to be changed after `planned_life_h` (below), which the policy's small risk puts well
///   before the median life. The day on which its own readings will put the change spreads about that plan as lives
///   do, log-normally with `log_sd`; it falls on the changing time before (rounded down to whole days, at least one).
/// - The current set: about its `change by` date, with the log spread of its remaining time (at most a half: towards
///   the end that spread grows without bound, but nobody waits for it); one that is due today, today.
/// - A share of changes is made up to `early_days` days earlier than needed. Late changes are not counted on.
/// - A share of the variance of lives is common to both sides and to every set (the wearer's use), the rest is each
///   set's own. The common part is five scenarios (Gauss-Hermite nodes of the normal distribution).
/// Lives below one day are reckoned as one set a day.
namespace cellarer::stock {

/// How this household changes cells.
struct ChangeHabit {
  double risk_limit = 1e-5;        ///< as life::Policy: of running out before the next change
  double miss_probability = 0.05;  ///< of missing one changing time, independently
  double early_share = 0.25;       ///< of changes made earlier than planned, evenly over the early days (assumption)
  int early_days = 2;              ///< 0 or more
  double shared_variance = 0.5;    ///< share of the variance of log life common to sides and sets (assumption), 0 to 1
};

/// What the life forecast says of one side, for stock.
struct SideOutlook {
  int change_by_day = 0;        ///< days from today to the date of `change by`; 0 when due, passed or no forecast
  double remaining_log_sd = 0;  ///< of the current set's remaining time: ln(p95 / p05) / 3.2897
  double fresh_median_h = 0;    ///< median life of a fresh set at these settings [h], above 0
  double fresh_log_sd = 0;      ///< spread of its logarithm, 0 or more
  /// When sets are changed in fact [h from change to change], if the caller knows it: readings let the policy run a
  /// set longer than what is known of it when fresh. None: planned_life_h(), which errs to more sets.
  std::optional<double> planned_h = std::nullopt;
};

/// Hours after which the policy changes a fresh set with one changing time a day: the longest t with
///     sum over m >= 0 of (1 - q) q^m F(t + 24 m) <= risk_limit,
/// F the log-normal distribution of life, q `miss_probability`: t is when the set is taken out if the changing time is
/// kept, and each missed one adds a day. 0 when no t above 0 keeps the limit.
double planned_life_h(double median_h, double log_sd, const ChangeHabit& habit);

/// Distribution of the days from a change to the next one for a set planned for `planned_h` hours.
/// `log_sd` 0 and `early_share` 0 give one day for certain. `result[0]` is 0.
DayPmf life_days(double planned_h, double log_sd, const ChangeHabit& habit, int days = longest_horizon_days);

/// Distribution of the day on which the set that is in now is changed (day 0: today).
DayPmf first_change_days(int change_by_day, double remaining_log_sd, const ChangeHabit& habit,
                         int days = longest_horizon_days);

/// Demand for cell sets. A side that is not in use, or of which nothing is known, is left out of `sides` (the
/// caller then says so beside the figures).
Demand cells_demand(const std::vector<SideOutlook>& sides, const ChangeHabit& habit, int cells_per_set,
                    int days = longest_horizon_days);

}  // namespace cellarer::stock
