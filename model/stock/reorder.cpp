// SPDX-License-Identifier: MIT
#include "model/stock/reorder.hpp"

#include <algorithm>
#include <cassert>
#include <limits>
#include <optional>

#include "model/stock/fefo.hpp"

namespace cellarer::stock {
namespace {

/// Most homes have stock for less, and are to have some two months more.
constexpr int near_days = 130;

int saturated(long long pieces) {
  return static_cast<int>(std::clamp<long long>(pieces, 0, std::numeric_limits<int>::max()));
}

/// One of Hall's conditions: after day `after`, only these units are left to use.
struct Condition {
  int after_day = -1;
  long long units = 0;
};

std::vector<Condition> conditions_of(const std::vector<Lot>& lots, int days) {
  long long left = 0;
  for (const Lot& lot : lots) left += lot.units;
  std::vector<Condition> conditions{{-1, left}};
  for (const Lot& lot : lots) {
    left -= lot.units;
    if (lot.last_day >= days - 1 || lot.units == 0) continue;
    if (conditions.back().after_day == lot.last_day) {
      conditions.back().units = left;  // another line with the same date
    } else {
      conditions.push_back({lot.last_day, left});
    }
  }
  return conditions;
}

/// What a scenario uses after a day, as answers to "more than so many by then?".
class Used {
 public:
  /// On the first `days` days.
  Used(const Scenario& scenario, int after_day, int days) {
    const auto& streams = scenario.streams;
    const bool by_ones = std::ranges::all_of(streams, [](const Stream& stream) { return stream.amount == 1; });
    if (by_ones && (streams.size() == 1 || streams.size() == 2)) {
      first_ = uses_at_least(streams.front(), after_day, days);
      if (streams.size() == 2) second_ = uses_at_least(streams.back(), after_day, days);
    } else {
      counts_ = used_by_day(scenario, after_day, days);
    }
  }

  double above(std::size_t day, long long units) const {
    if (first_.empty()) return probability_above(counts_[day], units);
    if (second_.empty()) return at_least(first_, units + 1, day);
    // Two sides, each a set at a time: all that the first may have used, and the second what is then too many. That is
    // much less than the distribution of the sum.
    double sum = 0;
    for (std::size_t n = first_.size() - 1; n-- > 0;) {
      const double exactly = first_[n][day] - first_[n + 1][day];
      if (exactly > 0) sum += exactly * at_least(second_, units + 1 - static_cast<long long>(n), day);
    }
    return sum;
  }

  /// Never more than this.
  long long most(std::size_t day) const {
    return first_.empty() ? std::ssize(counts_[day]) : std::ssize(first_) + std::ssize(second_);
  }

 private:
  using AtLeast = std::vector<std::vector<double>>;

  static double at_least(const AtLeast& of, long long uses, std::size_t day) {
    if (uses <= 0) return 1;
    return uses < std::ssize(of) ? of[static_cast<std::size_t>(uses)][day] : 0;
  }

  AtLeast first_, second_;        ///< of one or two streams that use one unit each time
  std::vector<CountPmf> counts_;  ///< of any others, by day
};

/// The probability of having run out, from counts that are made once.
class RunOut {
 public:
  /// On the first `days` days.
  RunOut(const Demand& demand, std::vector<Condition> conditions, int days) : conditions_(std::move(conditions)) {
    for (const Scenario& scenario : demand.scenarios) {
      weights_.push_back(scenario.weight);
      auto& used = used_.emplace_back();
      for (const Condition& condition : conditions_) used.emplace_back(scenario, condition.after_day, days);
    }
  }

  /// By the end of `day`, if `extra` units that do not expire were there as well: the upper bound of the header.
  double probability(int day, long long extra) const {
    double total = 0;
    for (std::size_t scenario = 0; scenario < weights_.size(); ++scenario) {
      double bound = 1;
      for (std::size_t base = 0; base < conditions_.size() && conditions_[base].after_day < day; ++base) {
        bound = std::min(bound, bound_from(scenario, base, day, extra));
      }
      total += weights_[scenario] * bound;
    }
    return total;
  }

  /// The fewest extra units that keep the probability of running out by `day` within `risk`.
  long long extra_needed(int day, double risk) const {
    long long too_few = -1, enough = 0;
    for (const auto& of_scenario : used_) {
      for (const auto& used : of_scenario) enough = std::max(enough, used.most(index(day)));
    }
    while (enough - too_few > 1) {
      const long long middle = too_few + (enough - too_few) / 2;
      (probability(day, middle) <= risk ? enough : too_few) = middle;
    }
    return enough;
  }

 private:
  static std::size_t index(int day) { return static_cast<std::size_t>(day); }

  /// P(N(after which condition counts, day] > units).
  double above(std::size_t scenario, std::size_t condition, int day, long long units) const {
    return used_[scenario][condition].above(index(day), units);
  }

  double bound_from(std::size_t scenario, std::size_t base, int day, long long extra) const {
    const Condition& from = conditions_[base];
    double sum = above(scenario, base, day, from.units + extra);
    for (std::size_t other = 0; other < conditions_.size() && conditions_[other].after_day < day; ++other) {
      if (other == base) continue;
      const Condition& to = conditions_[other];
      const double alone = other > base ? 1 - above(scenario, base, to.after_day, from.units - to.units - 1)
                                        : above(scenario, other, from.after_day, to.units - from.units);
      sum += std::min(alone, above(scenario, other, day, to.units + extra));
    }
    return sum;
  }

  std::vector<Condition> conditions_;
  std::vector<double> weights_;
  std::vector<std::vector<Used>> used_;  ///< by scenario and condition
};

/// When to order so that stock lasts until the delivery.
struct OrderDays {
  int order, last_covered;
  bool late;
};

/// From the probabilities of having run out, `accepted` being the one that is; none: not within these days.
std::optional<OrderDays> order_days(const std::vector<double>& by_day, double accepted, const ReorderPolicy& policy) {
  const auto first_short = std::find_if(by_day.begin(), by_day.end(), [&](double p) { return p > accepted; });
  if (first_short == by_day.end()) return std::nullopt;
  const int must_arrive = static_cast<int>(first_short - by_day.begin()) - 1;
  const int order = std::max(0, must_arrive - policy.lead_days);
  return OrderDays{order, order + policy.lead_days + policy.cover_days, must_arrive < policy.lead_days};
}

double accepted_risk(const ReorderPolicy& policy) { return 1 - policy.service_level + 1e-12; }

void order(ItemForecast& forecast, const RunOut& run_out, const std::vector<double>& by_day, const Demand& demand,
           Date today, const ReorderPolicy& policy) {
  const double risk = accepted_risk(policy);
  const auto days = order_days(by_day, risk, policy);
  if (!days) return;
  forecast.order_by = days_after(today, days->order);
  forecast.order_late = days->late;
  const int last_covered = std::min(demand.days - 1, days->last_covered);
  const long long pieces = run_out.extra_needed(last_covered, risk) * demand.pieces_per_unit;
  const long long packs = (pieces + policy.pack_size - 1) / policy.pack_size;
  forecast.order_quantity = saturated(packs * policy.pack_size);
}

/// What expires unused on the median course of use: see the header for C_j.
void find_expiring(ItemForecast& forecast, const std::vector<Lot>& lots, const Demand& demand) {
  if (lots.empty() || lots.front().last_day >= demand.days) return;
  Demand until = demand;
  for (const Lot& lot : lots) {
    if (lot.last_day < demand.days) until.days = lot.last_day + 1;
  }
  const std::vector<CountPmf> used = used_by_day(until);
  long long units = 0, wasted = 0, pieces_in_all = 0;
  for (const Lot& lot : lots) {
    if (lot.last_day >= demand.days) break;
    units += lot.units;
    const long long used_by_then = smallest_covering(used[static_cast<std::size_t>(lot.last_day)], 0.5);
    const long long wasted_by_then = std::max(wasted, units - used_by_then);
    const long long odd = lot.line.quantity - static_cast<long long>(lot.units) * demand.pieces_per_unit;
    const long long pieces = (wasted_by_then - wasted) * demand.pieces_per_unit + odd;
    wasted = wasted_by_then;
    if (pieces > 0) forecast.expiring.push_back({lot.line, saturated(pieces)});
    pieces_in_all += pieces;
  }
  forecast.expiring_unused = saturated(pieces_in_all);
}

std::vector<Lot> take_inventory(ItemForecast& forecast, const Stock& stock, const Demand& demand, Date today) {
  std::vector<Lot> usable;
  long long quantity = 0, whole = 0, expired = 0;
  for (const Lot& lot : lots_in_order(stock.lines, forecast.item, today, demand.pieces_per_unit)) {
    if (lot.last_day < 0) {
      expired += lot.line.quantity;
      continue;
    }
    quantity += lot.line.quantity;
    whole += static_cast<long long>(lot.units) * demand.pieces_per_unit;
    forecast.lines.push_back(lot.line);
    usable.push_back(lot);
  }
  forecast.quantity = saturated(quantity);
  forecast.usable = saturated(whole);
  forecast.expired = saturated(expired);
  forecast.please_count = stock.please_count.contains(forecast.item);
  return usable;
}

}  // namespace

ItemForecast reorder(const std::string& item, const Stock& stock, const Demand& demand, Date today,
                     const ReorderPolicy& policy) {
  assert(policy.lead_days >= 0 && policy.pack_size >= 1 && policy.cover_days >= 1);
  assert(policy.service_level > 0 && policy.service_level < 1);
  assert(demand.days >= 1 && demand.pieces_per_unit >= 1);

  ItemForecast forecast;
  forecast.item = item;
  forecast.horizon_days = demand.days;
  const std::vector<Lot> lots = take_inventory(forecast, stock, demand, today);
  // Days far ahead cost most, and seldom matter: they are reckoned where the near ones do not tell all.
  for (int days = std::min(near_days, demand.days);; days = demand.days) {
    const RunOut run_out(demand, conditions_of(lots, days), days);
    std::vector<double> by_day(static_cast<std::size_t>(days));
    for (int day = 0; day < days; ++day) by_day[static_cast<std::size_t>(day)] = run_out.probability(day, 0);
    forecast.days = {first_day_reaching(by_day, 0.05), first_day_reaching(by_day, 0.50),
                     first_day_reaching(by_day, 0.95)};
    const auto ordered = order_days(by_day, accepted_risk(policy), policy);
    const bool all_told = forecast.days.p95 < days && ordered && ordered->last_covered < days;
    if (!all_told && days < demand.days) continue;
    order(forecast, run_out, by_day, demand, today, policy);
    break;
  }
  find_expiring(forecast, lots, demand);
  return forecast;
}

}  // namespace cellarer::stock
