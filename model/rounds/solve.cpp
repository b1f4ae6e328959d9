// SPDX-License-Identifier: MIT
#include "model/rounds/solve.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "model/rounds/flow.hpp"
#include "model/rounds/negotiate.hpp"
#include "model/rounds/prices.hpp"
#include "model/rounds/repair.hpp"
#include "model/rounds/search.hpp"
#include "model/rounds/visits.hpp"

namespace cellarer::rounds {

namespace {

constexpr long paths_per_address = 80;     ///< what making room may cost
constexpr double risk_arcs = 2e7;          ///< looked at for a bound on risk
constexpr std::size_t most_searched = 12;  ///< addresses of a part that is searched

class PartOfGrid {
 public:
  PartOfGrid(const Grid& grid, std::vector<int> addresses, Solved& solved)
      : grid_(grid), addresses_(std::move(addresses)), solved_(solved), draft_(solved.draft) {}

  void run() {
    ++solved_.parts;
    for (int a : addresses_) {
      alone_.push_back(cheapest_alone(grid_.addresses[static_cast<std::size_t>(a)]));
      least_ = least_ + alone_.back().cost;
    }
    if (fits()) {
      ++solved_.alone;
      return settle(least_.risk_ppm, least_.visits, true);
    }
    const int unplaced = by_flow();
    if (unplaced == 0 && open_.empty() && exact_) {
      ++solved_.by_flow;
      return settle(least_.risk_ppm, least_.visits, true);
    }
    repair(unplaced);
    const bool searched = addresses_.size() <= most_searched && search(grid_, addresses_, draft_);
    const Cost found = cost();
    if (searched) {
      ++solved_.searched;
      return settle(found.risk_ppm, found.visits, true);
    }
    ++solved_.repaired;
    bounds(found);
  }

 private:
  Cost cost() const { return cost_of(grid_, draft_, addresses_); }

  void settle(std::int64_t risk_bound, std::optional<std::int64_t> visits_bound, bool proven) {
    solved_.risk_bound_ppm += risk_bound;
    if (!visits_bound) solved_.visits_bound.reset();
    if (solved_.visits_bound) *solved_.visits_bound += *visits_bound;
    const Cost found = cost();
    if (found.risk_ppm > risk_bound || !visits_bound || found.visits > *visits_bound)
      solved_.least_visits_proven = false;
    if (!proven) solved_.proven = false;
  }

  bool fits() {
    for (std::size_t i = 0; i < addresses_.size(); ++i) draft_.put(grid_, addresses_[i], alone_[i].at);
    for (int a : addresses_)
      for (int column : grid_.addresses[static_cast<std::size_t>(a)].columns)
        if (draft_.load[static_cast<std::size_t>(column)] > grid_.columns[static_cast<std::size_t>(column)].stops) {
          clear();
          return false;
        }
    return true;
  }

  void clear() {
    for (int a : addresses_) draft_.put(grid_, a, {});
  }

  /// Returns how many visits have no room; fills `open_` with the addresses whose visits leave a gap. An address that
  /// is at risk even alone keeps its own best visits, which makes the answer's exactness a matter of comparing.
  int by_flow() {
    std::vector<std::vector<Choice>> choices;
    std::vector<std::pair<std::size_t, std::size_t>> whose;  // place in addresses_, first choice
    exact_ = true;
    for (std::size_t i = 0; i < addresses_.size(); ++i) {
      const Address& address = grid_.addresses[static_cast<std::size_t>(addresses_[i])];
      whose.emplace_back(i, choices.size());
      auto ranges = ranges_of_fewest(address);
      if (alone_[i].cost.risk_ppm > 0) {
        exact_ = false;
        ranges.clear();
        for (int v : alone_[i].at) ranges.emplace_back(v, v);
      }
      for (const auto& [first, last] : ranges) {
        choices.emplace_back();
        for (int v = first; v <= last; ++v)
          choices.back().push_back({Draft::column_of(address, v), -address.kept[static_cast<std::size_t>(v)]});
      }
    }
    std::vector<int> limits;
    for (const Column& column : grid_.columns) limits.push_back(column.stops);
    const Flow flow = assign(choices, limits, std::int64_t{1} << 40);
    for (std::size_t i = 0; i < whose.size(); ++i) {
      const int a = addresses_[whose[i].first];
      const Address& address = grid_.addresses[static_cast<std::size_t>(a)];
      const std::size_t end = i + 1 < whose.size() ? whose[i + 1].second : choices.size();
      std::vector<int> visits;
      bool placed = true;
      for (std::size_t k = whose[i].second; k < end; ++k) {
        placed = placed && flow.column[k] >= 0;
        const auto at = std::find(address.columns.begin(), address.columns.end(), flow.column[k]);
        visits.push_back(static_cast<int>(at - address.columns.begin()));
      }
      const bool ascending = std::adjacent_find(visits.begin(), visits.end(), std::greater_equal<>()) == visits.end();
      if (placed && ascending && cost_of(address, visits).risk_ppm == alone_[i].cost.risk_ppm)
        draft_.put(grid_, a, std::move(visits));
      else
        open_.push_back(a);
    }
    if (open_.empty() && cost() == least_) exact_ = true;
    return flow.unplaced;
  }

  void repair(int unplaced) {
    const std::vector<double> free(grid_.columns.size(), 0);
    if (unplaced == 0 && negotiate(grid_, addresses_, free, Trade::never, draft_)) {
      improve();
      return;
    }
    const double target = static_cast<double>(least_.visits + std::max(unplaced, 1));
    const auto relaxed = relax(grid_, addresses_, Priced::visits, target);
    negotiate(grid_, addresses_, relaxed.prices, Trade::visits, draft_);
    improve();
  }

  void improve() {
    long budget = paths_per_address * static_cast<long>(addresses_.size()) + 1000;
    for (int again = 0; again < 2; ++again) {
      make_room(grid_, addresses_, draft_, budget);
      const Cost was = cost();
      if (was.moved > least_.moved) shift(grid_, addresses_, draft_);
      if (cost() == was) break;
    }
  }

  void bounds(const Cost& found) {
    std::int64_t risk_bound = least_.risk_ppm;
    if (found.risk_ppm > risk_bound) {
      double arcs = 1;
      for (int a : addresses_) arcs += std::pow(grid_.addresses[static_cast<std::size_t>(a)].size(), 2) / 2;
      const int steps = static_cast<int>(std::clamp(risk_arcs / arcs, 10.0, 400.0));
      const auto relaxed = relax(grid_, addresses_, Priced::risk, static_cast<double>(found.risk_ppm), steps);
      return settle(std::max(risk_bound, whole_bound(relaxed.bound)), std::nullopt, false);
    }
    std::int64_t bound = least_.visits;
    if (found.visits > bound) {
      const auto relaxed = relax(grid_, addresses_, Priced::visits, static_cast<double>(found.visits));
      bound = std::max(bound, whole_bound(relaxed.bound));
    }
    settle(risk_bound, bound, found == least_);
  }

  const Grid& grid_;
  std::vector<int> addresses_;
  Solved& solved_;
  Draft& draft_;
  std::vector<Visits<Cost>> alone_;
  Cost least_;  ///< everybody's own best together: a lower bound in all three
  std::vector<int> open_;
  bool exact_ = false;
};

}  // namespace

std::vector<std::vector<int>> parts_of(const Grid& grid) {
  std::vector<int> head(grid.columns.size() + grid.addresses.size());
  std::iota(head.begin(), head.end(), 0);
  const auto find = [&](int i) {
    while (head[static_cast<std::size_t>(i)] != i)
      i = head[static_cast<std::size_t>(i)] = head[static_cast<std::size_t>(head[static_cast<std::size_t>(i)])];
    return i;
  };
  const int columns = static_cast<int>(grid.columns.size());
  for (std::size_t a = 0; a < grid.addresses.size(); ++a)
    for (int column : grid.addresses[a].columns)
      head[static_cast<std::size_t>(find(columns + static_cast<int>(a)))] = find(column);
  std::vector<std::vector<int>> parts;
  std::vector<int> number(head.size(), -1);
  for (std::size_t a = 0; a < grid.addresses.size(); ++a) {
    int& part = number[static_cast<std::size_t>(find(columns + static_cast<int>(a)))];
    if (part < 0) part = static_cast<int>(parts.size()), parts.emplace_back();
    parts[static_cast<std::size_t>(part)].push_back(static_cast<int>(a));
  }
  return parts;
}

Solved solve(const Grid& grid) {
  Solved solved{Draft(grid), 0, std::int64_t{0}, true, true, 0, 0, 0, 0, 0};
  for (auto& addresses : parts_of(grid)) PartOfGrid(grid, std::move(addresses), solved).run();
  return solved;
}

}  // namespace cellarer::rounds
