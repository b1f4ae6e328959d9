// SPDX-License-Identifier: MIT
#include "model/stock/renewal.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

#include "model/numerics/lanes.hpp"

namespace cellarer::stock {
namespace {

using numerics::lane_count;

constexpr double negligible_day = 1e-18;
constexpr double rare = 1e-13;  // of a whole count: uses rarer than this within the horizon are not counted

/// Indices of the first and one past the last day that matter.
struct Support {
  std::size_t from, to;
};

Support support_of(const DayPmf& pmf) {
  const auto matters = [](double p) { return p > negligible_day; };
  const auto first = std::find_if(pmf.begin(), pmf.end(), matters);
  const auto last = std::find_if(pmf.rbegin(), pmf.rend(), matters);
  if (first == pmf.end()) return {0, 0};
  return {static_cast<std::size_t>(first - pmf.begin()), static_cast<std::size_t>(pmf.rend() - last)};
}

DayPmf within(const DayPmf& pmf, std::size_t days) {
  DayPmf cut(days, 0.0);
  std::copy_n(pmf.begin(), std::min(days, pmf.size()), cut.begin());
  return cut;
}

/// Day of a use given the day of the one before: convolution cut at the horizon.
DayPmf next_use(const DayPmf& day, const DayPmf& next, Support steps) {
  DayPmf result(day.size(), 0.0);
  const Support days = support_of(day);
  for (std::size_t d = days.from; d < days.to; ++d) {
    const double here = day[d], *chance = next.data();
    double* to = result.data() + d;
    const std::size_t end = std::min(steps.to, day.size() - d);
    std::size_t step = steps.from;
    for (; step + lane_count <= end; step += lane_count)
      numerics::store(to + step, numerics::load(to + step) + here * numerics::load(chance + step));
    for (; step < end; ++step) to[step] += here * chance[step];
  }
  return result;
}

/// Day of the first use after `after_day`. With m(s) the probability of a use on day s (the renewal density),
/// g(t) = first(t) + sum over s <= after_day of m(s) next(t - s).
DayPmf first_after(const Stream& stream, int after_day, std::size_t days) {
  const DayPmf first = within(stream.first, days);
  if (after_day < 0) return first;
  const auto past = std::min(days, static_cast<std::size_t>(after_day) + 1);
  DayPmf density = first;
  for (std::size_t s = 0; s < past; ++s) {
    const std::size_t end = std::min(stream.next.size(), days - s);
    // Only days up to `after_day` feed on; later ones gather the first use after it.
    for (std::size_t step = 1; step < end; ++step) density[s + step] += density[s] * stream.next[step];
  }
  std::fill_n(density.begin(), past, 0.0);
  return density;
}

void add_scaled(CountPmf& to, const CountPmf& from, double weight) {
  if (to.size() < from.size()) to.resize(from.size(), 0.0);
  for (std::size_t n = 0; n < from.size(); ++n) to[n] += weight * from[n];
}

CountPmf trimmed(CountPmf pmf) {
  while (pmf.size() > 1 && pmf.back() == 0.0) pmf.pop_back();
  return pmf;
}

}  // namespace

DayPmf next_use(const DayPmf& day, const DayPmf& next) { return next_use(day, next, support_of(next)); }

std::vector<std::vector<double>> uses_at_least(const Stream& stream, int after_day, int days) {
  assert(days >= 1 && (stream.next.empty() || stream.next[0] == 0.0));
  const auto horizon = static_cast<std::size_t>(days);
  std::vector<std::vector<double>> at_least{std::vector<double>(horizon, 1.0)};
  DayPmf day_of_use = first_after(stream, after_day, horizon);
  const Support steps = support_of(stream.next);
  for (;;) {
    auto& cumulated = at_least.emplace_back(horizon);
    std::partial_sum(day_of_use.begin(), day_of_use.end(), cumulated.begin());
    if (cumulated.back() < rare) return at_least;
    day_of_use = next_use(day_of_use, stream.next, steps);
  }
}

std::vector<CountPmf> used_by_day(const Stream& stream, int after_day, int days) {
  assert(days >= 1 && stream.amount >= 0);
  const auto horizon = static_cast<std::size_t>(days);
  const auto amount = static_cast<std::size_t>(stream.amount);

  if (amount == 0) return std::vector<CountPmf>(horizon, CountPmf{1.0});

  // Each count is the difference of two neighbours.
  const auto at_least = uses_at_least(stream, after_day, days);
  std::vector<CountPmf> counts(horizon);
  for (std::size_t d = 0; d < horizon; ++d) {
    const auto exactly = [&](std::size_t k) { return at_least[k][d] - at_least[k + 1][d]; };
    std::size_t most = at_least.size() - 2;
    while (most > 0 && exactly(most) <= 0.0) --most;
    counts[d].assign(most * amount + 1, 0.0);
    for (std::size_t k = 0; k <= most; ++k) counts[d][k * amount] = std::max(0.0, exactly(k));
  }
  return counts;
}

std::vector<CountPmf> used_by_day(const Scenario& scenario, int after_day, int days) {
  std::vector<CountPmf> total(static_cast<std::size_t>(days), CountPmf{1.0});
  for (const Stream& stream : scenario.streams) {
    std::vector<CountPmf> counts = used_by_day(stream, after_day, days);
    if (&stream == &scenario.streams.front()) {
      total = std::move(counts);
      continue;
    }
    for (std::size_t d = 0; d < total.size(); ++d) total[d] = trimmed(sum_of(total[d], counts[d]));
  }
  return total;
}

std::vector<CountPmf> used_by_day(const Demand& demand, int after_day) {
  std::vector<CountPmf> mixed(static_cast<std::size_t>(demand.days));
  for (const Scenario& scenario : demand.scenarios) {
    const std::vector<CountPmf> counts = used_by_day(scenario, after_day, demand.days);
    for (std::size_t d = 0; d < mixed.size(); ++d) add_scaled(mixed[d], counts[d], scenario.weight);
  }
  return mixed;
}

}  // namespace cellarer::stock
