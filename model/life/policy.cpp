// SPDX-License-Identifier: MIT
#include "model/life/policy.hpp"

#include <algorithm>
#include <cassert>

#include "model/life/calendar.hpp"

namespace cellarer::life {

namespace {

Window window_of(const Night& night, Instant change_by) {
  constexpr double never_expected_above = 1e-3;
  if (night.to <= change_by && night.risk_by_end <= never_expected_above) return Window::expected;
  return night.risk_by_end < 0.5 ? Window::doubtful : Window::not_expected;
}

}  // namespace

bool may_wait(double by_next, double by_next_but_one, const Policy& policy) {
  return by_next <= policy.risk_limit && policy.miss_probability * by_next_but_one <= policy.missed_risk_limit;
}

ChangePlan plan_change(const CrossingDistribution& cutoff, const Course& course, const std::vector<Instant>& times,
                       const Policy& policy) {
  assert(times.size() >= 3);
  constexpr double unasked = -1;
  std::vector<double> risks(times.size(), unasked);
  const auto risk_by = [&](std::size_t k) {
    if (risks[k] == unasked) risks[k] = cutoff.by(course.charge_mAh(times[k]));
    return risks[k];
  };
  // Risks rise from one time to the next: where the first lies that no longer serves is found by halving.
  const auto first_not = [](std::size_t from, std::size_t to, const auto& serves) {
    while (from < to) {
      const std::size_t middle = from + (to - from) / 2;
      if (serves(middle))
        from = middle + 1;
      else
        to = middle;
    }
    return from;
  };
  const double missed = policy.miss_probability;
  const std::size_t change =
      first_not(0, times.size() - 3, [&](std::size_t k) { return may_wait(risk_by(k + 1), risk_by(k + 2), policy); });
  const double forgiven = missed > 0 ? policy.risk_limit / missed : policy.risk_limit;
  const std::size_t latest =
      first_not(change, times.size() - 1, [&](std::size_t k) { return risk_by(k + 1) <= forgiven; });
  return {times[change], times[latest]};
}

std::vector<Night> nights_ahead(const CrossingDistribution& cutoff, const Course& course, const Household& household,
                                Instant as_of, Instant change_by, std::size_t at_most) {
  const auto end = as_of + std::chrono::hours(24 * (at_most + 2));
  const auto times = changing_times(household, as_of, std::min(end, course.to()));
  const auto tonight_from = start_of_tonight(household, as_of);
  std::vector<Night> nights;
  double before = cutoff.by(course.charge_mAh(as_of));
  for (std::size_t k = 0; k + 1 < times.size() && nights.size() < at_most; ++k) {
    Night night{times[k], times[k + 1]};
    night.risk_by_end = cutoff.by(course.charge_mAh(night.to));
    night.risk = std::max(night.risk_by_end - before, 0.0);
    // A night that has begun also carries what may have happened already: nobody has seen it yet.
    if (k == 0) night.risk = night.risk_by_end;
    night.window = window_of(night, change_by);
    night.tonight = night.from == tonight_from;
    before = night.risk_by_end;
    nights.push_back(night);
    if (night.risk_by_end > 0.9999) break;
  }
  return nights;
}

}  // namespace cellarer::life
