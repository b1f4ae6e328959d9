// SPDX-License-Identifier: MIT
#include "model/rounds/repair.hpp"

#include <algorithm>
#include <numeric>

#include "model/rounds/flow.hpp"
#include "model/rounds/visits.hpp"

namespace cellarer::rounds {

namespace {

const Address& address_at(const Grid& grid, int a) { return grid.addresses[static_cast<std::size_t>(a)]; }

/// What one stop more costs on each column, and who would leave it. Level 0: only where there is room; level k: who
/// leaves may use columns at their costs of level k - 1.
struct Level {
  std::vector<std::optional<Cost>> cost;
  std::vector<int> mover;
  bool carries_risk = false;
};

class RoomMaker {
 public:
  RoomMaker(const Grid& grid, const std::vector<int>& addresses, Draft& draft, long& budget, int depth)
      : grid_(grid), addresses_(addresses), draft_(draft), budget_(budget), depth_(depth) {}

  void run() {
    std::vector<Cost> alone;
    for (int a : addresses_) alone.push_back(cheapest_alone(address_at(grid_, a)).cost);
    budget_ -= static_cast<long>(addresses_.size());
    bool won = true;
    while (won && budget_ > 0) {
      won = false;
      levels_.clear();
      for (std::size_t i = 0; i < addresses_.size() && budget_ > 0; ++i) {
        if (cost_of(grid_, draft_, addresses_[i]) > alone[i] && improve(addresses_[i])) won = true;
      }
    }
  }

 private:
  bool improve(int a) {
    if (levels_.empty()) find_levels(-1);
    int outcome = attempt(a);
    if (outcome == clashed) {
      find_levels(a);  // the chain went through the address itself
      outcome = attempt(a);
      if (outcome != improved) levels_.clear();
    }
    if (outcome == improved) levels_.clear();
    return outcome == improved;
  }

  enum Outcome { nothing, clashed, improved };

  Outcome attempt(int a) {
    const auto visits = best_for(a, depth_, -1);
    if (!visits || visits->cost >= cost_of(grid_, draft_, a)) return nothing;
    before_.clear();
    const bool done = settle(a, visits->at, depth_);
    Cost was, is;
    for (const auto& [b, old] : before_) {
      was = was + cost_of(address_at(grid_, b), old);
      is = is + cost_of(grid_, draft_, b);
    }
    if (done && is < was) return improved;
    for (auto old = before_.rbegin(); old != before_.rend(); ++old) draft_.put(grid_, old->first, old->second);
    return clashed;
  }

  /// Carries out: first those leave who make room, then the address takes its visits.
  bool settle(int a, const std::vector<int>& visits, int level) {
    for (const auto& [b, old] : before_)
      if (b == a) return false;
    before_.emplace_back(a, draft_.at(a));
    const Address& address = address_at(grid_, a);
    const std::vector<int> own = draft_.at(a);
    for (int v : visits) {
      const int column = Draft::column_of(address, v);
      if (std::find(own.begin(), own.end(), v) != own.end() || !is_full(grid_, draft_, column)) continue;
      if (level == 0) return false;
      const int mover = levels_[static_cast<std::size_t>(level)].mover[static_cast<std::size_t>(column)];
      if (mover < 0) return false;
      const auto way_out = best_for(mover, level - 1, column);
      if (!way_out || !settle(mover, way_out->at, level - 1)) return false;
    }
    for (int v : visits)
      if (std::find(own.begin(), own.end(), v) == own.end() && is_full(grid_, draft_, Draft::column_of(address, v)))
        return false;
    draft_.put(grid_, a, visits);
    return true;
  }

  /// Its own stops cost nothing beside themselves; `closed` may not be used.
  std::optional<Visits<Cost>> best_for(int a, int level, int closed) {
    --budget_;
    const Address& address = address_at(grid_, a);
    const Level& at = levels_[static_cast<std::size_t>(level)];
    own_.assign(static_cast<std::size_t>(address.size()), 0);
    for (int v : draft_.at(a)) own_[static_cast<std::size_t>(v)] = 1;
    return cheapest_visits(address, at.carries_risk, [&](int v) -> std::optional<Cost> {
      const int column = Draft::column_of(address, v);
      if (column == closed) return std::nullopt;
      if (own_[static_cast<std::size_t>(v)]) return address.stop(v);
      const auto& cost = at.cost[static_cast<std::size_t>(column)];
      return cost ? std::optional<Cost>(address.stop(v) + *cost) : std::nullopt;
    });
  }

  void find_levels(int without) {
    levels_.assign(
        1, {std::vector<std::optional<Cost>>(grid_.columns.size()), std::vector<int>(grid_.columns.size(), -1), false});
    for (std::size_t c = 0; c < grid_.columns.size(); ++c)
      if (!is_full(grid_, draft_, static_cast<int>(c))) levels_[0].cost[c] = Cost{};
    for (int level = 1; level <= depth_; ++level) {
      Level next = levels_.back();
      for (int b : addresses_) {
        if (b == without) continue;
        const Cost now = cost_of(grid_, draft_, b);
        for (int v : draft_.at(b)) {
          const int column = Draft::column_of(address_at(grid_, b), v);
          if (!is_full(grid_, draft_, column)) continue;
          const auto way_out = best_for(b, level - 1, column);
          if (!way_out) continue;
          const Cost more = way_out->cost - now;
          auto& cost = next.cost[static_cast<std::size_t>(column)];
          if (more.risk_ppm >= out_of_question_ppm || (cost && *cost <= more)) continue;
          cost = more, next.mover[static_cast<std::size_t>(column)] = b;
        }
      }
      for (const auto& cost : next.cost) next.carries_risk = next.carries_risk || (cost && cost->risk_ppm != 0);
      levels_.push_back(std::move(next));
    }
  }

  const Grid& grid_;
  const std::vector<int>& addresses_;
  Draft& draft_;
  long& budget_;
  int depth_;
  std::vector<Level> levels_;
  std::vector<std::pair<int, std::vector<int>>> before_;  ///< of the chain at hand
  std::vector<char> own_;
};

}  // namespace

void make_room(const Grid& grid, const std::vector<int>& addresses, Draft& draft, long& budget, int depth) {
  RoomMaker(grid, addresses, draft, budget, depth).run();
}

void shift(const Grid& grid, const std::vector<int>& addresses, Draft& draft) {
  for (std::size_t parity : {0U, 1U}) {
    std::vector<std::vector<Choice>> choices;
    std::vector<std::pair<int, std::size_t>> moving;
    std::vector<int> limits(grid.columns.size());
    for (std::size_t c = 0; c < limits.size(); ++c) limits[c] = grid.columns[c].stops - draft.load[c];
    const std::int64_t risk_weight = grid.confirmed + 1;
    for (int a : addresses) {
      const Address& address = address_at(grid, a);
      const auto& visits = draft.at(a);
      for (std::size_t k = parity; k < visits.size(); k += 2) {
        const int before = k == 0 ? -1 : visits[k - 1];
        const int after = k + 1 == visits.size() ? address.size() : visits[k + 1];
        const std::int64_t now = address.gap(before, visits[k]) + address.gap(visits[k], after);
        choices.emplace_back();
        for (int v = before + 1; v < after; ++v) {
          const std::int64_t risk = address.gap(before, v) + address.gap(v, after);
          if (risk > now + 1'000'000'000) continue;
          choices.back().push_back(
              {Draft::column_of(address, v), risk * risk_weight - address.kept[static_cast<std::size_t>(v)]});
        }
        moving.emplace_back(a, k);
        ++limits[static_cast<std::size_t>(Draft::column_of(address, visits[k]))];
      }
    }
    const Flow flow = assign(choices, limits, std::int64_t{1} << 50);
    if (flow.unplaced > 0) continue;  // cannot be: where they are now they all have room
    std::vector<std::vector<int>> to = draft.visits;
    for (std::size_t i = 0; i < moving.size(); ++i) {
      const Address& address = address_at(grid, moving[i].first);
      const auto at = std::find(address.columns.begin(), address.columns.end(), flow.column[i]);
      to[static_cast<std::size_t>(moving[i].first)][moving[i].second] = static_cast<int>(at - address.columns.begin());
    }
    for (int a : addresses) draft.put(grid, a, {});
    for (int a : addresses) draft.put(grid, a, to[static_cast<std::size_t>(a)]);
  }
}

}  // namespace cellarer::rounds
