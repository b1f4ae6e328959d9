// SPDX-License-Identifier: MIT
#include "model/stock/reorder.hpp"

#include <algorithm>
#include <cassert>
#include <limits>
#include <numeric>
#include <optional>

#include "model/stock/fefo.hpp"

namespace cellarer::stock {
namespace {

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

/// Days from `from` up to, not including, `to`.
struct Days {
  std::size_t from, to;
  std::size_t count() const { return to - from; }
};

/// One stream, by day.
struct Uses {
  UsesAtLeast at_least;
  int amount = 1;  ///< units taken each time, 1 or more
  long long most_units() const { return std::ssize(at_least) * amount; }
};

/// What some streams use together: `[n][day]` is the probability of n units or more. Beyond the last n: 0.
using UnitsAtLeast = std::vector<std::vector<double>>;

/// P(`one` and `others` use `units` (1 or more) together) on each of the days: all that the one may have used, a use at
/// a time, and the others what is then missing. That is much less than the distribution of the sum.
std::vector<double> together_at_least(const Uses& one, const UnitsAtLeast& others, long long units, Days days) {
  const auto row = [&](const auto& rows, long long n) { return rows[static_cast<std::size_t>(n)].data() + days.from; };
  std::vector<double> sum(days.count(), 0.0);
  const long long alone = (units + one.amount - 1) / one.amount;  // uses of the one that do without the others
  const long long last = std::ssize(one.at_least) - 1;
  if (alone <= last) std::copy_n(row(one.at_least, alone), days.count(), sum.begin());
  for (long long n = std::min(alone, last) - 1; n >= 0 && units - n * one.amount < std::ssize(others); --n) {
    const double *of_n = row(one.at_least, n), *of_more = row(one.at_least, n + 1);
    const double* missing = row(others, units - n * one.amount);
    for (std::size_t d = 0; d < sum.size(); ++d) sum[d] += std::max(of_n[d] - of_more[d], 0.0) * missing[d];
  }
  return sum;
}

/// What a scenario uses after a day, as answers to "more than so many by then?".
class Used {
 public:
  /// On the first `days` days.
  Used(const Scenario& scenario, int after_day, int days)
      : others_{std::vector<double>(static_cast<std::size_t>(days), 1.0)} {
    std::vector<Uses> streams;
    for (const Stream& stream : scenario.streams) common_ = std::gcd(common_, stream.amount);
    for (const Stream& stream : scenario.streams)
      if (stream.amount > 0) streams.push_back({uses_at_least(stream, after_day, days), stream.amount / common_});
    if (streams.empty()) return;
    std::ranges::stable_sort(streams, {}, &Uses::most_units);  // the fewest units are the cheapest to put together
    one_ = std::move(streams.back());
    streams.pop_back();
    for (Uses& stream : streams) add_to_others(std::move(stream));
  }

  /// By the end of each of the days.
  std::vector<double> above(long long units, Days days) const {
    if (units < 0) return std::vector<double>(days.count(), 1.0);
    if (one_.at_least.empty()) return std::vector<double>(days.count(), 0.0);
    return together_at_least(one_, others_, units / common_ + 1, days);
  }

  double above(long long units, int day) const {
    const auto d = static_cast<std::size_t>(day);
    return above(units, Days{d, d + 1}).front();
  }

  /// Never more than this.
  long long most() const { return (std::ssize(others_) + one_.most_units()) * common_; }

 private:
  void add_to_others(Uses stream) {
    if (others_.size() == 1 && stream.amount == 1) {
      others_ = std::move(stream.at_least);
      return;
    }
    const Days all{0, others_.front().size()};
    UnitsAtLeast sum{others_.front()};
    while (sum.back().back() >= rare_count) sum.push_back(together_at_least(stream, others_, std::ssize(sum), all));
    others_ = std::move(sum);
  }

  int common_ = 0;       ///< units that every use takes a multiple of; all else here counts in these
  Uses one_;             ///< the stream that may use most
  UnitsAtLeast others_;  ///< of the others
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

  /// By the end of each of the days, if `extra` units that do not expire were there as well: the upper bound of the
  /// header.
  std::vector<double> probabilities(Days days, long long extra) const {
    std::vector<double> total(days.count(), 0.0);
    for (std::size_t scenario = 0; scenario < weights_.size(); ++scenario) {
      const std::vector<double> bounds = least_bounds(used_[scenario], days, extra);
      for (std::size_t d = 0; d < total.size(); ++d) total[d] += weights_[scenario] * bounds[d];
    }
    return total;
  }

  /// The fewest extra units that keep the probability of running out by `day` within `risk`.
  long long extra_needed(int day, double risk) const {
    const auto d = static_cast<std::size_t>(day);
    long long too_few = -1, enough = 0;
    for (const auto& of_scenario : used_) {
      for (const Used& used : of_scenario) enough = std::max(enough, used.most());
    }
    while (enough - too_few > 1) {
      const long long middle = too_few + (enough - too_few) / 2;
      (probabilities({d, d + 1}, middle).front() <= risk ? enough : too_few) = middle;
    }
    return enough;
  }

 private:
  /// Of one scenario, `used` being by condition.
  std::vector<double> least_bounds(const std::vector<Used>& used, Days days, long long extra) const {
    std::vector<std::vector<double>> fails;  // P(E_j), by condition and day
    for (std::size_t j = 0; j < conditions_.size(); ++j)
      fails.push_back(used[j].above(conditions_[j].units + extra, days));
    std::vector<double> least(days.count(), 1.0);
    for (std::size_t base = 0; base < conditions_.size(); ++base) {
      const std::vector<double> bound = bound_from(base, used, fails);
      const auto begins = static_cast<std::size_t>(conditions_[base].after_day + 1);
      for (std::size_t day = std::max(begins, days.from); day < days.to; ++day)
        least[day - days.from] = std::min(least[day - days.from], bound[day - days.from]);
    }
    return least;
  }

  std::vector<double> bound_from(std::size_t base, const std::vector<Used>& used,
                                 const std::vector<std::vector<double>>& fails) const {
    const Condition& from = conditions_[base];
    std::vector<double> sum = fails[base];
    for (std::size_t other = 0; other < conditions_.size(); ++other) {
      if (other == base) continue;
      const Condition& to = conditions_[other];
      const double alone = other > base ? 1 - used[base].above(from.units - to.units - 1, to.after_day)
                                        : used[other].above(to.units - from.units, from.after_day);
      for (std::size_t d = 0; d < sum.size(); ++d) sum[d] += std::min(alone, fails[other][d]);
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
  std::vector<int> last_days;
  for (const Lot& lot : lots)
    if (lot.last_day < demand.days) last_days.push_back(lot.last_day);
  const std::vector<CountPmf> used = used_until(demand, last_days);
  long long units = 0, wasted = 0, pieces_in_all = 0;
  for (std::size_t k = 0; k < last_days.size(); ++k) {
    const Lot& lot = lots[k];  // in the order of their days
    units += lot.units;
    const long long used_by_then = smallest_covering(used[k], 0.5);
    const long long wasted_by_then = std::max(wasted, units - used_by_then);
    const long long odd = lot.line.quantity - static_cast<long long>(lot.units) * demand.pieces_per_unit;
    const long long pieces = (wasted_by_then - wasted) * demand.pieces_per_unit + odd;
    wasted = wasted_by_then;
    if (pieces > 0) forecast.expiring.push_back({lot.line, saturated(pieces)});
    pieces_in_all += pieces;
  }
  forecast.expiring_unused = saturated(pieces_in_all);
}

/// Days far ahead cost most, and seldom matter. These are likely to tell all: as long as the units last at the pace of
/// the likeliest scenario, or until a delivery comes, and what that is to cover. Orders go out for uses faster than
/// that pace, so that a tenth less will do.
int likely_days(const Demand& demand, const std::vector<Lot>& lots, const ReorderPolicy& policy) {
  double units = 0, units_a_day = 0;
  for (const Lot& lot : lots) units += lot.units;
  const auto likeliest = std::ranges::max_element(demand.scenarios, {}, &Scenario::weight);
  if (likeliest != demand.scenarios.end()) {
    for (const Stream& stream : likeliest->streams) units_a_day += stream.amount * uses_a_day(stream, demand.days);
  }
  const double lasts = std::max(0.9 * units / std::max(units_a_day, 1e-9), static_cast<double>(policy.lead_days));
  return static_cast<int>(std::min<double>(lasts + policy.cover_days + 1, demand.days));
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
  for (int days = likely_days(demand, lots, policy);;) {
    const RunOut run_out(demand, conditions_of(lots, days), days);
    const auto by_day = run_out.probabilities({0, static_cast<std::size_t>(days)}, 0);
    forecast.days = {first_day_reaching(by_day, 0.05), first_day_reaching(by_day, 0.50),
                     first_day_reaching(by_day, 0.95)};
    const auto ordered = order_days(by_day, accepted_risk(policy), policy);
    const bool all_told = forecast.days.p95 < days && ordered && ordered->last_covered < days;
    if (all_told || days == demand.days) {
      order(forecast, run_out, by_day, demand, today, policy);
      break;
    }
    days = std::min(demand.days, std::max(days + days / 2, ordered ? ordered->last_covered + 1 : 0));
  }
  find_expiring(forecast, lots, demand);
  return forecast;
}

}  // namespace cellarer::stock
