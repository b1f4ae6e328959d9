// SPDX-License-Identifier: MIT
#pragma once
#include <limits>
#include <optional>
#include <vector>

#include "model/rounds/grid.hpp"

/// The cheapest visits of one address: a shortest path from today (-1) over its columns to the end of the horizon
/// (size()), where the arc from v to w costs the gap between them and the stop at w. Exact; O(size()^2).
namespace cellarer::rounds {

/// A cost with prices in it: risk, then visits, then the rest, in which visits may be counted instead.
struct Weighed {
  std::int64_t risk_ppm = 0, visits = 0;
  double rest = 0;
  // NOLINTNEXTLINE(modernize-use-nullptr): a false alarm of version 14
  auto operator<=>(const Weighed&) const = default;
  Weighed operator+(const Weighed& o) const { return {risk_ppm + o.risk_ppm, visits + o.visits, rest + o.rest}; }
};

template <class C>
struct Visits {
  C cost{};
  std::vector<int> at;  ///< columns of the address, ascending
};

/// `arc(v, w)`: optional<C> of going from v to w, the stop at w in it (none at the end); no value: that column is
/// closed. `on_time`: only arcs without risk, so that no answer means that it cannot be done. Ties: the earlier visit.
template <class C, class Arc>
std::optional<Visits<C>> cheapest_visits(const Address& address, bool on_time, Arc arc) {
  const int size = address.size();
  std::vector<std::optional<C>> best(static_cast<std::size_t>(size) + 2);
  std::vector<int> from(best.size(), -1);
  best[0] = C{};
  for (int v = -1; v < size; ++v) {
    const auto& here = best[static_cast<std::size_t>(v + 1)];
    if (!here) continue;
    for (int w = v + 1; w <= size; ++w) {
      if (on_time && address.gap(v, w) > 0) break;  // gaps never fall with w
      const std::optional<C> step = arc(v, w);
      if (!step) continue;
      const C cost = *here + *step;
      auto& there = best[static_cast<std::size_t>(w + 1)];
      if (!there || cost < *there) there = cost, from[static_cast<std::size_t>(w + 1)] = v;
    }
  }
  if (!best.back()) return std::nullopt;
  Visits<C> visits{*best.back(), {}};
  for (int v = from.back(); v >= 0; v = from[static_cast<std::size_t>(v + 1)]) visits.at.insert(visits.at.begin(), v);
  return visits;
}

/// With `stop(v)`: optional<Cost> of a visit at v, its own cost in it. Stops that carry a risk are weighed against late
/// visits; where none does, visits in time are tried first, which is the same and quicker.
template <class Stop>
std::optional<Visits<Cost>> cheapest_visits(const Address& address, bool stops_carry_risk, const Stop& stop) {
  const auto arc = [&](int v, int w) -> std::optional<Cost> {
    const Cost gap{address.gap(v, w), 0, 0};
    if (w == address.size()) return gap;
    const std::optional<Cost> cost = stop(w);
    return cost ? std::optional<Cost>(gap + *cost) : std::nullopt;
  };
  if (!stops_carry_risk)
    if (auto visits = cheapest_visits<Cost>(address, true, arc)) return visits;
  return cheapest_visits<Cost>(address, false, arc);
}

/// As if it were alone on every round.
inline Visits<Cost> cheapest_alone(const Address& address) {
  return *cheapest_visits(address, false, [&](int v) { return std::optional<Cost>(address.stop(v)); });
}

/// For the fewest visits without risk, the first and last column that the k-th of them can have. Empty if there are
/// none without risk. Greedy from either end: gaps are monotone.
inline std::vector<std::pair<int, int>> ranges_of_fewest(const Address& address) {
  std::vector<std::pair<int, int>> ranges;
  const int size = address.size();
  for (int v = -1; address.gap(v, size) > 0;) {
    int w = v;
    while (w + 1 < size && address.gap(v, w + 1) == 0) ++w;
    if (w == v) return {};
    ranges.push_back({0, v = w});
  }
  for (std::size_t k = ranges.size(), next = static_cast<std::size_t>(size); k-- > 0;) {
    int v = ranges[k].second;
    while (v > 0 && address.gap(v - 1, static_cast<int>(next)) == 0) --v;
    ranges[k].first = v;
    next = static_cast<std::size_t>(v);
  }
  return ranges;
}

}  // namespace cellarer::rounds
