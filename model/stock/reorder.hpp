// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/stock/dates.hpp"
#include "model/stock/ledger.hpp"
#include "model/stock/renewal.hpp"

/// When an item runs out, when to order, how much.
///
/// Units (whole sets of cells, or single pieces) are used first expired first out. A set is of one lot at one place;
/// an odd last cell of a line counts as none. With N(a, d] the units needed after day a up to day d, e_1 < e_2 < ...
/// the last usable days of the lots and S_j the units of lots usable after e_j (S_0 all, e_0 = -1), every need up to
/// day d is met exactly if N(e_j, d] <= S_j for every e_j < d (Hall's condition: lots are all there from the start, so
/// first expired first out loses nothing). Let E_j be the failure of condition j. Then, whichever b is taken,
///     max_j P(E_j)  <=  P(run out by d)  <=  P(E_b) + sum over j != b of min(P(E_j), P(E_j can fail alone)):
///     j after b only if N(e_b, e_j] < S_b - S_j (something expired unused), j before b only if N(e_j, e_b] > S_j -
///     S_b.
/// Each term is exact (renewal.hpp). The least of these upper bounds is used, scenario by scenario: exact when no lot
/// expires within the horizon or when it is plain whether it will be used up, otherwise dates err to the early side.
namespace cellarer::stock {

struct ReorderPolicy {
  int lead_days = 5;             ///< from ordering to having it in the house, 0 or more
  int pack_size = 4;             ///< pieces of one pack, 1 or more; one order is taken to be of one lot
  double service_level = 0.999;  ///< probability that stock lasts until a delivery arrives, and over the cover
  int cover_days = 60;           ///< that a delivery is to last after it arrives
};

/// Days from today to the first need that stock does not meet. A value equal to the horizon means "that or more".
struct DaysLeft {
  int p05 = 0, p50 = 0, p95 = 0;
};

/// Pieces of one lot at one place that will pass their date unused.
struct ExpiringUnused {
  Line line;  ///< as kept today
  int pieces = 0;
};

struct ItemForecast {
  std::string item;
  int quantity = 0;  ///< pieces in the books that are not expired
  int usable = 0;    ///< of these, pieces in whole sets
  int expired = 0;   ///< pieces past their date, still on the shelf
  bool please_count = false;
  DaysLeft days;  ///< 5 % run out earlier, half, 95 %
  int horizon_days = 0;
  std::optional<Date> order_by;  ///< last date to order; none: stock outlasts the horizon
  bool order_late = false;       ///< the date is today because it has passed: stock may not last until a delivery
  int order_quantity = 0;        ///< pieces, whole packs; 0 when there is no `order_by`
  std::vector<ExpiringUnused> expiring;  ///< within the horizon, on the median course of use
  int expiring_unused = 0;               ///< pieces, their sum
  std::vector<Line> lines;               ///< usable lines in the order of use (places differ: all of them count)
};

/// Forecast of one item from its lines (of `stock`, others are left out).
///
/// - order_by: a delivery ordered that day arrives the day before the first day on which the probability of having
///   run out exceeds 1 - service_level.
/// - order_quantity: the fewest whole packs with which stock lasts, at the service level, until cover_days after that
///   delivery (within the horizon). The delivery is taken as usable throughout: what may go short before it arrives is
///   the business of `order_by`.
/// - expiring: with n_j the median of N(-1, e_j] and A_j the units of lots to e_j, the waste until e_j is
///   C_j = max(C_(j-1), A_j - n_j); odd pieces of such a lot are added.
///
/// Errors: policy figures outside their range are the caller's bug. Cost: one renewal count per distinct expiry
/// within the days that the units are likely to last and an order is to cover; of more days where those leave something
/// open.
ItemForecast reorder(const std::string& item, const Stock& stock, const Demand& demand, Date today,
                     const ReorderPolicy& policy = {});

}  // namespace cellarer::stock
