// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/rounds/records.hpp"

/// The plan: lowest total risk first, then the fewest visits, then the fewest confirmed stops that move.
///
/// Choose for each address a the rounds x_ar in {0, 1} of its area on which it is a stop,
///     every round:   sum over a of x_ar <= stops of r
///     every need:    met by the first visit in or after its window that has its packs; in time, too late at the risk
///                    of that date, or not at all at the risk of the horizon's end
///     total risk  =  sum over needs of the probability that the household falls short: the expected number of
///                    shortfalls, whether they are independent or not
/// With stops alone binding and nobody late this is the covering of intervals by points with limits on points. One
/// household is a shortest path; all together are exact by one min-cost flow if it leaves no gap (solve.hpp), otherwise
/// repaired, with bounds from the relaxation. `proven` says which.
namespace cellarer::rounds {

struct LotPart {
  std::string lot;
  int packs = 0;
  std::optional<std::chrono::year_month> expires;
  std::optional<Date> arrives{};  ///< of those that are on order
};

/// What one household gets of one need.
struct Delivery {
  std::string household, item;
  int need = 0;  ///< number in the household's needs, from 0
  int packs = 0;
  bool late = false;           ///< after its deliver-by date
  std::vector<LotPart> parts;  ///< empty where stock was not given
};

struct PlannedStop {
  std::string address, round;
  Date date;
  bool confirmed = false;  ///< it was confirmed before
  bool pinned = false;     ///< a planner's decision
  std::vector<Delivery> deliveries;
};

enum class Why {
  no_round,     ///< the calendar has no round in the area within the window
  lead_time,    ///< those there are leave too soon for a new stop
  rounds_full,  ///< every round within the window is full
  stock_short,  ///< the agency has not enough packs by then
  kept_out,     ///< a planner has ruled out the rounds that would do
  not_found     ///< there is room; the plan is not proven to be the best
};

struct Left {
  std::string household, address, item;
  int need = 0, packs = 0;
  Date deliver_by;
  std::optional<Date> late_on;  ///< it goes on that date, too late; none: not within the horizon
  double risk = 0;              ///< of falling short
  std::vector<Why> reasons;     ///< at least one, in the order above
};

struct PlanFigures {
  long visits = 0;
  std::optional<long> visits_bound;  ///< no plan that leaves nobody more has fewer; none where risk is not proven least
  double risk = 0, risk_bound = 0;   ///< expected shortfalls, and what no plan can be below
  long confirmed = 0, moved = 0;     ///< confirmed stops, and those of them that are not in this plan
  bool least_visits_proven = false;  ///< risk and visits are the least
  bool proven = false;               ///< and so are the confirmed stops that move
  bool stock_short = false;
  int parts = 0, alone = 0, by_flow = 0, repaired = 0, searched = 0;  ///< areas, by what settled them
  /// visits / visits_bound - 1; 0 where proven, none without a bound
  std::optional<double> gap() const;
};

struct Plan {
  std::vector<PlannedStop> stops;    ///< by date, round, address
  std::vector<Left> left;            ///< highest risk first
  std::vector<ConfirmedStop> moved;  ///< confirmed stops that are not in the plan
  PlanFigures figures;
};

/// Errors: std::invalid_argument with the first of problems_of(input). Time: README's rounds bench. Same input, same
/// plan.
Plan plan(const PlanInput& input);

/// Whether two plans are as far as risk is concerned the same, and so on: their order of merit.
bool better(const PlanFigures& a, const PlanFigures& b);

}  // namespace cellarer::rounds
