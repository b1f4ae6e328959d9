// SPDX-License-Identifier: MIT
#include "model/review/early_changes.hpp"

#include <algorithm>
#include <cmath>

#include "model/review/early_causes.hpp"

namespace cellarer::review {

namespace {

struct Depths {
  double mean = 0, standard_error = 0;
};

Depths newest(const std::vector<const SetRecord*>& planned, std::size_t count, const EarlyLimits& limits) {
  const std::size_t first = count - std::min(count, static_cast<std::size_t>(limits.at_most));
  double sum = 0, squares = 0;
  const auto n = static_cast<double>(count - first);
  for (std::size_t i = first; i < count; ++i) sum += planned[i]->observed->depth;
  const double mean = sum / n;
  for (std::size_t i = first; i < count; ++i) squares += std::pow(planned[i]->observed->depth - mean, 2);
  const double sd = std::max(n > 1 ? std::sqrt(squares / (n - 1)) : 0.0, limits.depth_sd);
  return {mean, sd / std::sqrt(n)};
}

/// The newest of those by which it is found now.
std::vector<SetRecord> newest_sets(const std::vector<const SetRecord*>& planned, int count) {
  std::vector<SetRecord> sets;
  for (auto i = planned.size() - static_cast<std::size_t>(count); i < planned.size(); ++i) sets.push_back(*planned[i]);
  return sets;
}

}  // namespace

std::optional<Finding> changes_too_early(const HouseholdHistory& history, const ReviewOptions& options,
                                         const EarlyLimits& limits) {
  std::vector<const SetRecord*> planned;
  for (const auto& record : history.records) {
    if (record.ended == life::ChangeReason::planned && record.observed) planned.push_back(&record);
  }
  std::stable_sort(planned.begin(), planned.end(), [](const auto* a, const auto* b) { return a->to < b->to; });
  std::optional<Finding> finding;
  for (std::size_t n = static_cast<std::size_t>(limits.at_least); n <= planned.size(); ++n) {
    const auto depths = newest(planned, n, limits);
    const double below = (limits.used - depths.mean) / depths.standard_error;
    if (below < limits.sure_sd) {
      finding.reset();
      continue;
    }
    if (!finding) {
      finding = Finding{};
      finding->raised_at = planned[n - 1]->to;
      finding->id = finding_id("early", history.household, finding->raised_at);
      finding->since = planned[n - static_cast<std::size_t>(limits.at_least)]->from;
    }
    finding->mean_touched = depths.mean;
    finding->sets_touched = static_cast<int>(std::min(n, static_cast<std::size_t>(limits.at_most)));
    finding->probability = 0.5 * std::erfc(-below / std::sqrt(2.0));
  }
  if (!finding) return finding;
  finding->kind = Kind::changes_too_early;
  finding->household = history.household;
  finding->scope = Scope::both;
  auto why = causes_of_early_changes(newest_sets(planned, finding->sets_touched), history, options);
  finding->causes = why.causes;
  const auto likeliest = std::max_element(why.causes.begin(), why.causes.end());
  if (*likeliest >= options.limits.name_at) finding->named = static_cast<Cause>(likeliest - why.causes.begin());
  if (!finding->named) finding->next = std::move(why.next);
  return finding;
}

}  // namespace cellarer::review
