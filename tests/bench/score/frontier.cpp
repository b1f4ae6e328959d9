// SPDX-License-Identifier: MIT
#include "tests/bench/score/frontier.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "model/life/policy.hpp"

namespace cellarer::bench {

namespace {

constexpr double limits[] = {1e-7, 1e-6, 5e-6, 1e-5, 5e-5, 1e-4, 2e-4, 5e-4, 1e-3, 2e-3, 5e-3, 1e-2};
constexpr float half_an_hour_days = 0.5F / 24;

/// The first evening of a set of which `due` holds.
template <class Due>
std::size_t first_evening(const SweepRecord& record, std::size_t set, const Due& due) {
  const auto& kept = record.sets()[set];
  std::size_t evening = 0;
  while (evening < kept.nights && !due(kept.first_night + evening)) ++evening;
  return evening;
}

std::size_t last_evening_within(const SweepRecord& record, std::size_t set, double days) {
  // The next evening would come one day later; half an hour forgives daylight saving's odd days.
  return first_evening(record, set, [&](std::size_t night) {
    return record.nights()[night].days_in + 1 > static_cast<float>(days) + half_an_hour_days;
  });
}

/// Of each set the mean log life of the sets before it in its side; none where there are too few.
std::vector<std::optional<double>> histories(const SweepRecord& record) {
  std::vector<std::optional<double>> means;
  std::map<std::pair<std::size_t, Side>, std::pair<double, std::size_t>> seen;
  for (const auto& set : record.sets()) {
    auto& [sum, count] = seen[{set.household, set.side}];
    means.push_back(count < history_needed ? std::nullopt : std::optional(sum / static_cast<double>(count)));
    sum += std::log(set.life_days);
    ++count;
  }
  return means;
}

}  // namespace

ComesOut at_risk_limit(std::size_t forecaster, double limit, double miss_probability) {
  return [=](const SweepRecord& record, std::size_t set) {
    return first_evening(record, set, [&](std::size_t night) {
      const auto& stated = record.stated(night, forecaster);
      return (1 - miss_probability) * stated.next + miss_probability * stated.next_but_one > limit;
    });
  };
}

ComesOut by_policy(std::size_t forecaster, const life::Policy& policy) {
  return [=](const SweepRecord& record, std::size_t set) {
    return first_evening(record, set, [&](std::size_t night) {
      const auto& stated = record.stated(night, forecaster);
      return !life::may_wait(stated.next, stated.next_but_one, policy);
    });
  };
}

ComesOut after_days(double days) {
  return [=](const SweepRecord& record, std::size_t set) { return last_evening_within(record, set, days); };
}

ComesOut after_tuned_days(const SweepRecord& record, double margin) {
  return [margin, mean_log_life = histories(record)](const SweepRecord& of,
                                                     std::size_t set) -> std::optional<std::size_t> {
    const auto mean = mean_log_life[set];
    if (!mean) return std::nullopt;
    return last_evening_within(of, set, std::exp(*mean - margin));
  };
}

FrontierPoint lay_over(const SweepRecord& record, std::size_t judge, const ComesOut& comes_out, double setting,
                       double miss_probability) {
  FrontierPoint point{setting};
  double waste = 0, kept = 0, missed = 0, counted = 0, nights = 0;
  for (std::size_t s = 0; s < record.sets().size(); ++s) {
    const auto& set = record.sets()[s];
    const auto out = set.counts ? comes_out(record, s) : std::nullopt;
    if (!out) continue;
    const bool as_in_the_run = *out == set.nights;
    waste += as_in_the_run ? set.left_share : record.nights()[set.first_night + *out].left_share;
    if (as_in_the_run && set.ran_out) ++counted;
    double still_in = 1;
    for (std::size_t evening = 0; evening < set.nights; ++evening) {
      const double risk = record.stated(set.first_night + evening, judge).next;
      if (evening < *out) {
        kept += risk;
      } else {
        still_in *= miss_probability;
      }
      missed += still_in * risk;
    }
    // The night of the change itself is the first of the set's: its evening was the set's before.
    nights += static_cast<double>(*out) + 1;
    ++point.sets;
  }
  point.waste = waste / static_cast<double>(std::max<std::size_t>(point.sets, 1));
  point.run_outs_kept = kept / std::max(nights, 1.0);
  point.run_outs_missed = missed / std::max(nights, 1.0);
  point.run_outs_counted = counted / std::max(nights, 1.0);
  return point;
}

Frontier over_limits(const SweepRecord& record, std::size_t judge, std::size_t forecaster, double counted_miss,
                     double miss_probability) {
  Frontier frontier;
  for (const double limit : limits) {
    const auto comes_out = at_risk_limit(forecaster, limit, counted_miss);
    frontier.push_back(lay_over(record, judge, comes_out, limit, miss_probability));
  }
  return frontier;
}

double waste_at(const Frontier& frontier, double run_outs, Times times) {
  const auto at = [&](const FrontierPoint& point) {
    if (times == Times::counted) return point.run_outs_counted;
    return times == Times::kept ? point.run_outs_kept : point.run_outs_missed;
  };
  for (std::size_t i = 0; i + 1 < frontier.size(); ++i) {
    auto a = frontier[i], b = frontier[i + 1];
    if (at(a) > at(b)) std::swap(a, b);
    if (at(a) > run_outs || at(b) < run_outs || at(b) <= 0) continue;
    const double low = std::log(std::max(at(a), 1e-12)), high = std::log(at(b));
    const double share = high > low ? (std::log(run_outs) - low) / (high - low) : 0;
    return a.waste + share * (b.waste - a.waste);
  }
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace cellarer::bench
