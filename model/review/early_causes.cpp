// SPDX-License-Identifier: MIT
#include "model/review/early_causes.hpp"

#include <algorithm>
#include <cmath>

#include "model/review/next_steps.hpp"

namespace cellarer::review {

namespace {

/// ln of the share that the record lets expect when a set comes out. Homes that go by the forecast leave a fifth to a
/// quarter of the charge (README, field trial); of those that change as they like nothing is known. Assumptions.
const Size by_the_forecast{std::log(0.78), 0.12}, as_the_home_likes{std::log(0.45), 0.3};

/// Before any data. Assumptions: which of the two is wrong is as open as which cause makes less be used.
constexpr double prior_timing = 0.5;

/// A cause that makes less be used than the record says: which rows show it, and by how much.
struct LessUse {
  Cause cause;
  double prior;
  std::optional<Check::What> shown_by;
};
constexpr LessUse less_use[] = {{Cause::settings, 0.15, Check::What::settings_read},
                                {Cause::unit, 0.12, Check::What::bench_current},
                                {Cause::cells, 0.06, std::nullopt},
                                {Cause::habit, 0.10, Check::What::hours_noted},
                                {Cause::gauge, 0.07, std::nullopt}};

/// A gauge that shows too much makes a set look less used, as far as the set feels the gauge.
double felt_by(const LessUse& story, const Row& row, Scope scope) {
  if (!in_scope(row.side, scope)) return 0;
  if (row.check) return row.check == story.shown_by ? 1 : 0;
  return story.cause == Cause::gauge ? row.bias_loading : 1;
}

Sums sums_of(const Whitened& whitened, const Eigen::VectorXd& pattern) {
  const auto white = whitened.whiten(pattern);
  return {white.squaredNorm(), white.dot(whitened.surprise())};
}

double log_density(double value, const Size& size) {
  const double apart = (value - size.mean) / size.sd;
  return -apart * apart / 2 - std::log(size.sd);
}

/// Mean of ln(share used) less the log ratio, over the sets.
double by_the_record(const std::vector<SetRecord>& sets) {
  double sum = 0;
  for (const auto& set : sets) sum += std::log(std::max(set.observed->depth, 0.01)) - set.observed->log_ratio;
  return sum / static_cast<double>(sets.size());
}

}  // namespace

EarlyCauses causes_of_early_changes(const std::vector<SetRecord>& sets, const HouseholdHistory& history,
                                    const ReviewOptions& options) {
  std::vector<Check> checks;
  for (const auto& check : history.checks) {
    if (check.at >= sets.front().from) checks.push_back(check);
  }
  const auto rows = rows_of(sets, checks, options.spreads);
  const Whitened whitened(rows, options.spreads, history.settled);
  const double record = by_the_record(sets);
  std::vector<Outcome> stories{{Cause::timing,
                                std::log(prior_timing) + log_density(record, as_the_home_likes),
                                {record - by_the_forecast.mean, by_the_forecast.sd}}};
  const double goes_by_it = log_density(record, by_the_forecast);
  const auto& level = options.priors.level_size;
  const auto& bias = options.priors.bias;
  for (const auto& story : less_use) {
    const bool gauge = story.cause == Cause::gauge;
    const Size size = gauge ? bias : Size{-level.mean, level.sd};
    for (const auto scope : {Scope::left, Scope::right, Scope::both}) {
      Eigen::VectorXd pattern(static_cast<Eigen::Index>(rows.size()));
      double deepest = 0;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const double one = felt_by(story, rows[i], scope);
        pattern[static_cast<Eigen::Index>(i)] = one;
        if (!rows[i].check && std::abs(one) > std::abs(deepest)) deepest = one;
      }
      if (deepest == 0) continue;
      const auto sums = sums_of(whitened, pattern);
      const auto seen = posterior_size(sums, size);
      stories.push_back({story.cause,
                         std::log(story.prior / 3) + goes_by_it + log_bayes_factor(sums, size),
                         {seen.mean * deepest, seen.sd * std::abs(deepest)}});
    }
  }
  // A check that is sure of its cause is beyond what a double holds: weights stay logarithms until they are compared.
  std::vector<double> logs;
  for (const auto& story : stories) logs.push_back(story.weight);
  const double total = log_sum(logs);
  EarlyCauses early;
  for (auto& story : stories) {
    story.weight = std::exp(story.weight - total);
    early.causes[static_cast<std::size_t>(story.cause)] += story.weight;
  }
  early.next = next_steps(stories, options.spreads);
  return early;
}

}  // namespace cellarer::review
