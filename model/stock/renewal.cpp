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
using numerics::Lanes;

constexpr double negligible_day = 1e-18;

/// Indices of the first and one past the last day that matter.
struct Support {
  std::size_t from, to;
};

/// Of the days from `wide.from` up to `wide.to`.
Support support_within(Support wide, const double* pmf) {
  while (wide.to > wide.from && pmf[wide.to - 1] <= negligible_day) --wide.to;
  while (wide.from < wide.to && pmf[wide.from] <= negligible_day) ++wide.from;
  return wide;
}

Support support_of(const DayPmf& pmf) { return support_within({0, pmf.size()}, pmf.data()); }

constexpr std::size_t block_days = 4 * lane_count;

/// Into `to`, for the days from `reached.from` up to `reached.to`, by blocks, each kept in registers while the steps
/// that lead to its days are gone through. Of `before` and of `to` there is a block more at both ends.
CELLARER_BY_FOUR void convolve(const double* before, Support of_before, const double* next, Support steps, double* to,
                               Support reached) {
  for (std::size_t day = reached.from; day < reached.to; day += block_days) {
    const std::size_t shortest = std::max(steps.from, day < of_before.to ? 0 : day - of_before.to + 1);
    const std::size_t longest = std::min(steps.to, day + block_days - of_before.from);
    Lanes a{}, b{}, c{}, d{};  // by name: an array of them would stay in memory
    for (std::size_t step = longest; step-- > shortest;) {
      const double chance = next[step];
      const double* from = before + day - step;
      a += chance * numerics::load(from);
      b += chance * numerics::load(from + lane_count);
      c += chance * numerics::load(from + 2 * lane_count);
      d += chance * numerics::load(from + 3 * lane_count);
    }
    numerics::store(to + day, a);
    numerics::store(to + day + lane_count, b);
    numerics::store(to + day + 2 * lane_count, c);
    numerics::store(to + day + 3 * lane_count, d);
  }
}

/// Day of one use, within a horizon. There is room for a block of days before the first one and after the last one,
/// so that whole blocks are read and written.
class DayOfUse {
 public:
  explicit DayOfUse(std::size_t horizon) : horizon_(horizon), padded_(horizon + 2 * block_days, 0.0) {}

  DayOfUse(const DayPmf& pmf, std::size_t horizon) : DayOfUse(horizon) {
    std::copy_n(pmf.begin(), std::min(horizon, pmf.size()), data());
    support_ = support_within({0, horizon}, data());
  }

  std::size_t horizon() const { return horizon_; }
  const double* data() const { return padded_.data() + block_days; }
  Support support() const { return support_; }
  DayPmf pmf() const { return {data(), data() + horizon_}; }

  /// Makes this the day of the use after `before`: convolution by day, cut at the horizon.
  void set_after(const DayOfUse& before, const DayPmf& next, Support steps) {
    std::fill(padded_.begin(), padded_.end(), 0.0);
    support_ = {0, 0};
    const Support from = before.support_;
    if (from.from == from.to || steps.from == steps.to) return;
    const Support reached{from.from + steps.from, std::min(horizon_, from.to - 1 + steps.to)};
    convolve(before.data(), from, next.data(), steps, data(), reached);
    support_ = support_within({std::min(reached.from, reached.to), reached.to}, data());
  }

  /// Makes the day of the first use that of the first one from day `past` on: see first_after().
  void skip_to(std::size_t past, const DayPmf& next, Support steps) {
    double* density = data();
    for (std::size_t s = support_.from; s < past; ++s) {
      const std::size_t end = std::min(steps.to, horizon_ - s);
      for (std::size_t step = steps.from; step < end; ++step) density[s + step] += density[s] * next[step];
    }
    std::fill_n(density, past, 0.0);
    support_ = support_within({past, horizon_}, data());
  }

 private:
  double* data() { return padded_.data() + block_days; }

  std::size_t horizon_;
  std::vector<double> padded_;
  Support support_{0, 0};
};

/// Day of the first use after `after_day`. With m(s) the probability of a use on day s (the renewal density),
/// g(t) = first(t) + sum over s <= after_day of m(s) next(t - s): only days up to `after_day` feed on.
DayOfUse first_after(const Stream& stream, int after_day, std::size_t days) {
  DayOfUse use(stream.first, days);
  if (after_day >= 0)
    use.skip_to(std::min(days, static_cast<std::size_t>(after_day) + 1), stream.next, support_of(stream.next));
  return use;
}

/// The probability of the use by the end of each day.
std::vector<double> cumulated(const DayOfUse& use) {
  std::vector<double> by_day(use.horizon(), 0.0);
  const Support days = use.support();
  double sum = 0;
  for (std::size_t d = days.from; d < days.to; ++d) by_day[d] = sum += use.data()[d];
  std::fill(by_day.begin() + static_cast<std::ptrdiff_t>(days.to), by_day.end(), sum);
  return by_day;
}

/// Units of a stream's uses on one day.
CountPmf counts_on(std::size_t day, const UsesAtLeast& at_least, std::size_t amount) {
  // Each count is the difference of two neighbours.
  const auto exactly = [&](std::size_t uses) { return at_least[uses][day] - at_least[uses + 1][day]; };
  std::size_t most = at_least.size() - 2;
  while (most > 0 && exactly(most) <= 0.0) --most;
  CountPmf counts(most * amount + 1, 0.0);
  for (std::size_t uses = 0; uses <= most; ++uses) counts[uses * amount] = std::max(0.0, exactly(uses));
  return counts;
}

std::vector<CountPmf> used_until(const Stream& stream, int after_day, std::span<const int> days) {
  assert(stream.amount >= 0);
  std::vector<CountPmf> counts;
  counts.reserve(days.size());
  if (stream.amount == 0 || days.empty()) {
    counts.assign(days.size(), CountPmf{1.0});
    return counts;
  }
  const auto at_least = uses_at_least(stream, after_day, *std::ranges::max_element(days) + 1);
  for (const int day : days)
    counts.push_back(counts_on(static_cast<std::size_t>(day), at_least, static_cast<std::size_t>(stream.amount)));
  return counts;
}

void add_scaled(CountPmf& to, const CountPmf& from, double weight) {
  if (to.size() < from.size()) to.resize(from.size(), 0.0);
  for (std::size_t n = 0; n < from.size(); ++n) to[n] += weight * from[n];
}

CountPmf trimmed(CountPmf pmf) {
  while (pmf.size() > 1 && pmf.back() == 0.0) pmf.pop_back();
  return pmf;
}

std::vector<CountPmf> used_until(const Scenario& scenario, int after_day, std::span<const int> days) {
  std::vector<CountPmf> total(days.size(), CountPmf{1.0});
  for (const Stream& stream : scenario.streams) {
    std::vector<CountPmf> counts = used_until(stream, after_day, days);
    if (&stream == &scenario.streams.front()) {
      total = std::move(counts);
      continue;
    }
    for (std::size_t d = 0; d < total.size(); ++d) total[d] = trimmed(sum_of(total[d], counts[d]));
  }
  return total;
}

std::vector<int> all_of(int days) {
  assert(days >= 1);
  std::vector<int> all(static_cast<std::size_t>(days));
  std::iota(all.begin(), all.end(), 0);
  return all;
}

}  // namespace

DayPmf next_use(const DayPmf& day, const DayPmf& next) {
  DayOfUse following(day.size());
  following.set_after(DayOfUse(day, day.size()), next, support_of(next));
  return following.pmf();
}

double uses_a_day(const Stream& stream, int days) {
  double mean = 0, within = 0;
  if (stream.next.empty()) return std::accumulate(stream.first.begin(), stream.first.end(), 0.0) / days;
  for (std::size_t day = 0; day < stream.next.size(); ++day) {
    mean += static_cast<double>(day) * stream.next[day];
    within += stream.next[day];
  }
  return 1 / (mean + std::max(0.0, 1 - within) * days);
}

UsesAtLeast uses_at_least(const Stream& stream, int after_day, int days) {
  assert(days >= 1 && (stream.next.empty() || stream.next[0] == 0.0));
  const auto horizon = static_cast<std::size_t>(days);
  const Support steps = support_of(stream.next);
  UsesAtLeast at_least{std::vector<double>(horizon, 1.0)};
  DayOfUse use = first_after(stream, after_day, horizon), following(horizon);
  for (;;) {
    at_least.push_back(cumulated(use));
    if (at_least.back().back() < rare_count) return at_least;
    following.set_after(use, stream.next, steps);
    std::swap(use, following);
  }
}

std::vector<CountPmf> used_by_day(const Stream& stream, int after_day, int days) {
  return used_until(stream, after_day, all_of(days));
}

std::vector<CountPmf> used_by_day(const Scenario& scenario, int after_day, int days) {
  return used_until(scenario, after_day, all_of(days));
}

std::vector<CountPmf> used_by_day(const Demand& demand, int after_day) {
  return used_until(demand, all_of(demand.days), after_day);
}

std::vector<CountPmf> used_until(const Demand& demand, std::span<const int> days, int after_day) {
  std::vector<CountPmf> mixed(days.size());
  for (const Scenario& scenario : demand.scenarios) {
    const std::vector<CountPmf> counts = used_until(scenario, after_day, days);
    for (std::size_t d = 0; d < mixed.size(); ++d) add_scaled(mixed[d], counts[d], scenario.weight);
  }
  return mixed;
}

}  // namespace cellarer::stock
