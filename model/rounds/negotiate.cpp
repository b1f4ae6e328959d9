// SPDX-License-Identifier: MIT
#include "model/rounds/negotiate.hpp"

#include <algorithm>
#include <limits>

#include "model/rounds/visits.hpp"

namespace cellarer::rounds {

namespace {

class Negotiation {
 public:
  Negotiation(const Grid& grid, const std::vector<int>& addresses, const std::vector<double>& prices, Trade trade,
              Draft& draft)
      : grid_(grid), addresses_(addresses), history_(prices), trade_(trade), draft_(draft) {}

  bool run(int sweeps) {
    int least = std::numeric_limits<int>::max(), without_gain = 0;
    for (int sweep = 0; sweep < sweeps; ++sweep) {
      for (int a : addresses_)
        if (sweep == 0 || on_overloaded(a)) choose(a);
      const int over = raise_history();
      if (over == 0) return true;
      without_gain = over < least ? 0 : without_gain + 1;
      least = std::min(least, over);
      if (without_gain == 30) break;
      present_ = std::min(present_ * 1.2, 3.0);
    }
    for (std::size_t c = 0; c < grid_.columns.size(); ++c) relieve(static_cast<int>(c));
    return false;
  }

 private:
  const Address& address_at(int a) const { return grid_.addresses[static_cast<std::size_t>(a)]; }
  int overload(int c) const {
    return draft_.load[static_cast<std::size_t>(c)] - grid_.columns[static_cast<std::size_t>(c)].stops;
  }
  bool on_overloaded(int a) const {
    const auto& visits = draft_.at(a);
    return std::any_of(visits.begin(), visits.end(),
                       [&](int v) { return overload(Draft::column_of(address_at(a), v)) > 0; });
  }

  void choose(int a) {
    const Address& address = address_at(a);
    draft_.put(grid_, a, {});
    const auto arc = [&](int v, int w) -> std::optional<Weighed> {
      Weighed cost{address.gap(v, w), 0, 0};
      if (w == address.size()) return cost;
      const int c = Draft::column_of(address, w);
      if (trade_ == Trade::never)
        cost.visits = 1;
      else
        cost.rest = 1;
      cost.rest += history_[static_cast<std::size_t>(c)] + present_ * std::max(0, overload(c) + 1) -
                   kept_weight * address.kept[static_cast<std::size_t>(w)];
      return cost;
    };
    auto visits = cheapest_visits<Weighed>(address, true, arc);
    if (!visits) visits = cheapest_visits<Weighed>(address, false, arc);
    draft_.put(grid_, a, std::move(visits->at));
  }

  /// Returns the stops over the limits.
  int raise_history() {
    int sum = 0;
    for (std::size_t c = 0; c < grid_.columns.size(); ++c) {
      const int over = overload(static_cast<int>(c));
      if (over <= 0) continue;
      history_[c] += 0.2 * over / grid_.columns[c].stops + 0.02;
      sum += over;
    }
    return sum;
  }

  /// Whoever gives way at the least cost does, to columns with room, until the limit holds.
  void relieve(int c) {
    while (overload(c) > 0) {
      int mover = -1;
      Cost least;
      std::vector<int> to;
      for (int a : addresses_) {
        const Address& address = address_at(a);
        const auto& now = draft_.at(a);
        if (std::none_of(now.begin(), now.end(), [&](int v) { return Draft::column_of(address, v) == c; })) continue;
        const auto way = cheapest_visits(address, false, [&](int v) -> std::optional<Cost> {
          const int column = Draft::column_of(address, v);
          const bool own = std::find(now.begin(), now.end(), v) != now.end();
          if (column == c || (!own && is_full(grid_, draft_, column))) return std::nullopt;
          return address.stop(v);
        });
        const Cost more = way->cost - cost_of(address, now);
        if (mover >= 0 && !(more < least)) continue;
        mover = a, least = more, to = way->at;
      }
      draft_.put(grid_, mover, std::move(to));
    }
  }

  static constexpr double kept_weight = 0.05;
  const Grid& grid_;
  const std::vector<int>& addresses_;
  std::vector<double> history_;
  Trade trade_;
  Draft& draft_;
  double present_ = 0.1;
};

}  // namespace

bool negotiate(const Grid& grid, const std::vector<int>& addresses, const std::vector<double>& prices, Trade trade,
               Draft& draft, int sweeps) {
  return Negotiation(grid, addresses, prices, trade, draft).run(sweeps);
}

}  // namespace cellarer::rounds
