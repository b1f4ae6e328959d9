// SPDX-License-Identifier: MIT
#include "model/duty/paced_more.hpp"

#include <algorithm>

namespace cellarer::duty {

namespace {

bool lasts_at(const PacedMore& more, Instant at) { return more.from <= at && (!more.to || at < *more.to); }

}  // namespace

std::vector<Settings> with_raised_amplitude(const std::vector<Settings>& settings, const std::vector<PacedMore>& more) {
  const bool raised = std::any_of(more.begin(), more.end(), [](const PacedMore& one) { return one.amplitude; });
  if (settings.empty() || !raised) return settings;
  std::vector<Instant> edges;
  for (const PacedMore& one : more) {
    if (!one.amplitude) continue;
    edges.push_back(one.from);
    if (one.to) edges.push_back(*one.to);
  }
  std::vector<Settings> in_fact = settings;
  for (const Instant edge : edges) {
    const auto after = std::upper_bound(in_fact.begin(), in_fact.end(), edge,
                                        [](Instant at, const Settings& one) { return at < one.from; });
    if (after == in_fact.begin() || (after - 1)->from == edge) continue;
    Settings again = *(after - 1);
    again.from = edge;
    in_fact.insert(after, again);
  }
  for (Settings& one : in_fact) {
    for (const PacedMore& period : more) {
      if (period.amplitude && lasts_at(period, one.from)) one.amplitude = std::max(one.amplitude, *period.amplitude);
    }
  }
  return in_fact;
}

}  // namespace cellarer::duty
