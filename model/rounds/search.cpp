// SPDX-License-Identifier: MIT
#include "model/rounds/search.hpp"

#include <algorithm>

namespace cellarer::rounds {

namespace {

struct Way {
  unsigned columns = 0;  ///< one bit a column of the address
  std::vector<int> visits;
  Cost cost;
};

/// The ways to visit an address, cheapest first; without those that visit more and gain nothing, unless `all`.
std::vector<Way> ways_of(const Address& address, bool all) {
  std::vector<Way> every;
  for (unsigned columns = 0; columns < 1U << address.size(); ++columns) {
    Way way{columns, {}, {}};
    for (int v = 0; v < address.size(); ++v)
      if (columns >> v & 1U) way.visits.push_back(v);
    way.cost = cost_of(address, way.visits);
    every.push_back(std::move(way));
  }
  std::stable_sort(every.begin(), every.end(), [](const Way& a, const Way& b) { return a.cost < b.cost; });
  if (all) return every;
  std::vector<Way> ways;
  for (Way& way : every) {
    const bool needless =
        std::any_of(ways.begin(), ways.end(), [&](const Way& other) { return (other.columns & ~way.columns) == 0; });
    if (!needless) ways.push_back(std::move(way));
  }
  return ways;
}

class Search {
 public:
  Search(const Grid& grid, Draft& draft, long nodes, const Whole& whole)
      : grid_(grid), draft_(draft), nodes_(nodes), whole_(whole) {}

  bool run(const std::vector<int>& addresses) {
    best_cost_ = whole_ ? whole_(draft_) : cost_of(grid_, draft_, addresses);
    for (int a : addresses)
      order_.push_back({a, ways_of(grid_.addresses[static_cast<std::size_t>(a)], static_cast<bool>(whole_))});
    std::stable_sort(order_.begin(), order_.end(),
                     [](const auto& a, const auto& b) { return a.ways.size() < b.ways.size(); });
    rest_.assign(order_.size() + 1, {});
    for (std::size_t i = order_.size(); i-- > 0;) rest_[i] = rest_[i + 1] + order_[i].ways.front().cost;
    keep();
    for (int a : addresses) draft_.put(grid_, a, {});
    descend(0, {});
    for (std::size_t i = 0; i < order_.size(); ++i) draft_.put(grid_, order_[i].address, best_[i]);
    return nodes_ > 0;
  }

 private:
  struct Step {
    int address;
    std::vector<Way> ways;
  };

  void keep() {
    best_.clear();
    for (const Step& step : order_) best_.push_back(draft_.at(step.address));
  }

  void descend(std::size_t i, Cost so_far) {
    if (nodes_ <= 0) return;
    --nodes_;
    if (i == order_.size()) {
      const Cost cost = whole_ ? whole_(draft_) : so_far;
      if (cost < best_cost_) best_cost_ = cost, keep();
      return;
    }
    const Address& address = grid_.addresses[static_cast<std::size_t>(order_[i].address)];
    for (const Way& way : order_[i].ways) {
      if (!(so_far + way.cost + rest_[i + 1] < best_cost_)) return;  // the ways that follow cost as much or more
      const bool room = std::none_of(way.visits.begin(), way.visits.end(),
                                     [&](int v) { return is_full(grid_, draft_, Draft::column_of(address, v)); });
      if (!room) continue;
      draft_.put(grid_, order_[i].address, way.visits);
      descend(i + 1, so_far + way.cost);
      draft_.put(grid_, order_[i].address, {});
    }
  }

  const Grid& grid_;
  Draft& draft_;
  std::vector<std::vector<int>> best_;  ///< in the order of order_
  Cost best_cost_;
  long nodes_;
  const Whole& whole_;
  std::vector<Step> order_;
  std::vector<Cost> rest_;
};

}  // namespace

bool search(const Grid& grid, const std::vector<int>& addresses, Draft& draft, long nodes, const Whole& whole,
            int most_columns) {
  for (int a : addresses)
    if (grid.addresses[static_cast<std::size_t>(a)].size() > most_columns) return false;
  return Search(grid, draft, nodes, whole).run(addresses);
}

}  // namespace cellarer::rounds
