// SPDX-License-Identifier: MIT
#include "model/rounds/share.hpp"

#include <algorithm>
#include <tuple>

#include "model/rounds/lots.hpp"

namespace cellarer::rounds {

namespace {

constexpr std::size_t most_for_exact = 12;  ///< needs of a short item that are shared out exactly

class Sharer {
 public:
  Sharer(const PlanInput& input, const Grid& grid, const Draft& draft) : input_(input), grid_(grid), draft_(draft) {}

  Shares run() {
    ByItem by_item;
    for (std::size_t a = 0; a < grid_.addresses.size(); ++a)
      for (int h : grid_.addresses[a].households) list(static_cast<int>(a), h, by_item);
    if (input_.lots)
      for (const auto& [item, needs] : by_item) {
        share(item, needs.wanted);
        say_what_stock_lacks(item, needs);
      }
    for (const Serving& serving : shares_.servings) shares_.risk_ppm += risk_at(serving, serving.visit);
    return std::move(shares_);
  }

 private:
  struct ByVisit {
    std::vector<std::size_t> wanted, unvisited;  ///< needs that some visit could meet, and the others
  };
  using ByItem = std::map<std::string, ByVisit>;

  const Address& address_of(const Serving& serving) const {
    return grid_.addresses[static_cast<std::size_t>(serving.address)];
  }
  const Need& need_of(const Serving& serving) const {
    return input_.households[static_cast<std::size_t>(serving.household)].needs[static_cast<std::size_t>(serving.need)];
  }
  Date date_at(const Address& address, int visit) const {
    return grid_.columns[static_cast<std::size_t>(Draft::column_of(address, visit))].date;
  }
  std::int64_t risk_at(const Serving& serving, int visit) const {
    return risk_ppm(need_of(serving), visit < 0 ? last_date(input_) : date_at(address_of(serving), visit));
  }
  Date lasting(const Serving& serving, Date date) const {
    return std::max(date, need_of(serving).must_last.value_or(date));
  }

  void list(int a, int h, ByItem& by_item) {
    const auto& needs = input_.households[static_cast<std::size_t>(h)].needs;
    const Address& address = grid_.addresses[static_cast<std::size_t>(a)];
    for (std::size_t n = 0; n < needs.size(); ++n) {
      Serving serving{a, h, static_cast<int>(n), -1, false, {}};
      for (int v : draft_.at(a)) {
        if (date_at(address, v) < needs[n].earliest) continue;
        serving.visit = v;
        break;
      }
      ByVisit& of_item = by_item[needs[n].item];
      (serving.visit >= 0 ? of_item.wanted : of_item.unvisited).push_back(shares_.servings.size());
      shares_.servings.push_back(std::move(serving));
    }
  }

  void by_date(std::vector<std::size_t>& wanted) const {
    std::stable_sort(wanted.begin(), wanted.end(),
                     [&](std::size_t a, std::size_t b) { return date_of(a) < date_of(b); });
  }
  Date date_of(std::size_t i) const { return date_at(address_of(shares_.servings[i]), shares_.servings[i].visit); }

  void share(const std::string& item, std::vector<std::size_t> wanted) {
    by_date(wanted);
    if (hand_out(item, wanted)) return;
    shares_.short_of_stock = true;
    std::vector<int> first_visit;
    first_visit.reserve(wanted.size());
    for (std::size_t i : wanted) first_visit.push_back(shares_.servings[i].visit);
    if (wanted.size() <= most_for_exact) {
      exactly(item, wanted);
    } else {
      shares_.proven = false;
      by_worth(item, wanted);
    }
    std::vector<std::size_t> met;
    for (std::size_t i : wanted)
      if (shares_.servings[i].visit >= 0) met.push_back(i);
    by_date(met);
    for (std::size_t i : wanted) shares_.servings[i].parts.clear();
    hand_out(item, met);
    for (std::size_t k = 0; k < wanted.size(); ++k) {
      Serving& serving = shares_.servings[wanted[k]];
      if (serving.parts.empty()) serving.visit = -1;
      serving.stock_short = serving.visit != first_visit[k];
    }
    for_the_next_grid(item, wanted);
  }

  /// A need without a visit may be without one because there would be nothing to bring.
  void say_what_stock_lacks(const std::string& item, const ByVisit& needs) {
    Lots lots(input_, item);
    for (std::size_t i : needs.wanted) lots.take(shares_.servings[i].parts);
    for (std::size_t i : needs.unvisited) {
      Serving& serving = shares_.servings[i];
      const Date date = std::max(need_of(serving).earliest, std::min(need_of(serving).deliver_by, last_date(input_)));
      serving.stock_short = !lots.parts(need_of(serving).packs, date, lasting(serving, date));
    }
  }

  /// In the order given, which is by date: first expired, first out.
  bool hand_out(const std::string& item, const std::vector<std::size_t>& wanted) {
    Lots lots(input_, item);
    bool all = true;
    for (std::size_t i : wanted) {
      Serving& serving = shares_.servings[i];
      serving.parts.clear();
      const Date date = date_of(i);
      const auto parts = lots.parts(need_of(serving).packs, date, lasting(serving, date));
      if (parts) {
        lots.take(*parts);
        serving.parts = *parts;
      }
      all = all && parts;
    }
    return all;
  }

  std::vector<int> visits_for(const Serving& serving) const {
    std::vector<int> visits;
    for (int v : draft_.at(serving.address))
      if (date_at(address_of(serving), v) >= need_of(serving).earliest) visits.push_back(v);
    return visits;
  }

  std::vector<std::size_t> in_order_of_worth(const std::vector<std::size_t>& wanted) const {
    std::vector<std::tuple<std::int64_t, Date, std::size_t>> worth;
    for (std::size_t i : wanted) {
      const Serving& serving = shares_.servings[i];
      const std::int64_t avoided = risk_at(serving, -1) - risk_at(serving, serving.visit);
      worth.emplace_back(-avoided / need_of(serving).packs, need_of(serving).deliver_by, i);
    }
    std::sort(worth.begin(), worth.end());
    std::vector<std::size_t> order;
    order.reserve(worth.size());
    for (const auto& [less, by, i] : worth) order.push_back(i);
    return order;
  }

  void by_worth(const std::string& item, const std::vector<std::size_t>& wanted) {
    Lots lots(input_, item);
    for (std::size_t i : in_order_of_worth(wanted)) {
      Serving& serving = shares_.servings[i];
      serving.visit = -1;
      for (int v : visits_for(serving)) {
        const Date date = date_at(address_of(serving), v);
        const auto parts = lots.parts(need_of(serving).packs, date, lasting(serving, date), true);
        if (!parts) continue;
        lots.take(*parts);
        serving.visit = v;
        break;
      }
    }
  }

  /// Every way to meet each need at one of its visits or not, the risk so far as the bound.
  void exactly(const std::string& item, const std::vector<std::size_t>& wanted) {
    const auto order = in_order_of_worth(wanted);
    std::vector<int> now(order.size(), -1), best(order.size(), -1);
    std::int64_t least = -1;
    long looked_at = 0;
    const auto possible = [&](std::size_t count) {
      std::vector<std::pair<Date, std::size_t>> dated;
      for (std::size_t k = 0; k < count; ++k)
        if (now[k] >= 0) dated.emplace_back(date_at(address_of(shares_.servings[order[k]]), now[k]), k);
      std::sort(dated.begin(), dated.end());
      Lots lots(input_, item);
      for (const auto& [date, k] : dated) {
        const Serving& serving = shares_.servings[order[k]];
        const auto parts = lots.parts(need_of(serving).packs, date, lasting(serving, date));
        if (!parts) return false;
        lots.take(*parts);
      }
      return true;
    };
    const auto descend = [&](auto& self, std::size_t k, std::int64_t risk) -> void {
      if ((least >= 0 && risk >= least) || ++looked_at > 100'000) return;
      if (k == order.size()) {
        least = risk, best = now;
        return;
      }
      const Serving& serving = shares_.servings[order[k]];
      for (int v : visits_for(serving)) {
        now[k] = v;
        if (possible(k + 1)) self(self, k + 1, risk + risk_at(serving, v));
      }
      now[k] = -1;
      self(self, k + 1, risk + risk_at(serving, -1));
    };
    descend(descend, 0, 0);
    if (looked_at > 100'000) shares_.proven = false;
    for (std::size_t k = 0; k < order.size(); ++k) shares_.servings[order[k]].visit = best[k];
  }

  /// Needs that are met must not move before their lots arrive; those left may wait for what arrives later, if it is
  /// not all taken.
  void for_the_next_grid(const std::string& item, const std::vector<std::size_t>& wanted) {
    Lots lots(input_, item);
    for (std::size_t i : wanted) {
      const Serving& serving = shares_.servings[i];
      Date from = input_.today;
      for (const Part& part : serving.parts)
        from = std::max(from, (*input_.lots)[static_cast<std::size_t>(part.lot)].arrives.value_or(from));
      if (serving.visit >= 0 && from > input_.today) shares_.shortage[{serving.household, serving.need}] = from;
      if (serving.visit >= 0) lots.take(serving.parts);
    }
    for (std::size_t i : in_order_of_worth(wanted)) {
      const Serving& serving = shares_.servings[i];
      if (serving.visit >= 0) continue;
      std::optional<Date> from;
      for (Date arrival : lots.arrivals()) {
        const auto parts = lots.parts(need_of(serving).packs, arrival, lasting(serving, arrival));
        if (!parts) continue;
        lots.take(*parts);
        from = arrival;
        break;
      }
      shares_.shortage[{serving.household, serving.need}] = from;
    }
  }

  const PlanInput& input_;
  const Grid& grid_;
  const Draft& draft_;
  Shares shares_;
};

}  // namespace

Shares share_out(const PlanInput& input, const Grid& grid, const Draft& draft) {
  return Sharer(input, grid, draft).run();
}

}  // namespace cellarer::rounds
