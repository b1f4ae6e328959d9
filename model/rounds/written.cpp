// SPDX-License-Identifier: MIT
#include "model/rounds/written.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace cellarer::rounds {

namespace {

using AddressAndRound = std::pair<std::string, std::string>;

class Writer {
 public:
  Writer(const PlanInput& input, const Grid& grid, const Solved& solved, const Shares& shares)
      : input_(input), grid_(grid), solved_(solved), shares_(shares), load_(input.rounds.size(), 0) {
    for (const ConfirmedStop& stop : input.confirmed) confirmed_.emplace(stop.address, stop.round);
    for (const Pin& pin : input.pins)
      if (pin.stop) pinned_.emplace(pin.address, pin.round);
  }

  Plan run() {
    stops();
    deliveries();
    std::sort(plan_.stops.begin(), plan_.stops.end(), [](const PlannedStop& a, const PlannedStop& b) {
      return std::tie(a.date, a.round, a.address) < std::tie(b.date, b.round, b.address);
    });
    std::stable_sort(plan_.left.begin(), plan_.left.end(),
                     [](const Left& a, const Left& b) { return a.risk > b.risk; });
    for (const ConfirmedStop& stop : input_.confirmed)
      if (!made_.count({stop.address, stop.round})) plan_.moved.push_back(stop);
    figures();
    return std::move(plan_);
  }

 private:
  const Round& round_at(int r) const { return input_.rounds[static_cast<std::size_t>(r)]; }

  void stops() {
    at_.resize(grid_.addresses.size());
    std::vector<std::vector<int>> on(grid_.columns.size());
    for (std::size_t a = 0; a < grid_.addresses.size(); ++a)
      for (int v : solved_.draft.visits[a])
        on[static_cast<std::size_t>(Draft::column_of(grid_.addresses[a], v))].push_back(static_cast<int>(a));
    for (std::size_t c = 0; c < on.size(); ++c) {
      std::vector<int> others;
      for (int a : on[c])
        if (!put_where_confirmed(a, static_cast<int>(c))) others.push_back(a);
      for (int a : others) put_where_room(a, static_cast<int>(c));
    }
  }

  bool put_where_confirmed(int a, int c) {
    const std::string& key = grid_.addresses[static_cast<std::size_t>(a)].key;
    for (int r : grid_.columns[static_cast<std::size_t>(c)].rounds) {
      if (!confirmed_.count({key, round_at(r).id})) continue;
      put(a, c, r);
      return true;
    }
    return false;
  }

  void put_where_room(int a, int c) {
    for (int r : grid_.columns[static_cast<std::size_t>(c)].rounds)
      if (load_[static_cast<std::size_t>(r)] < round_at(r).stops) return put(a, c, r);
  }

  void put(int a, int c, int r) {
    const Address& address = grid_.addresses[static_cast<std::size_t>(a)];
    ++load_[static_cast<std::size_t>(r)];
    const AddressAndRound key{address.key, round_at(r).id};
    made_.insert(key);
    at_[static_cast<std::size_t>(a)][c] = plan_.stops.size();
    plan_.stops.push_back(
        {key.first, key.second, round_at(r).date, confirmed_.count(key) != 0, pinned_.count(key) != 0, {}});
  }

  void deliveries() {
    for (const Serving& serving : shares_.servings) {
      const Address& address = grid_.addresses[static_cast<std::size_t>(serving.address)];
      const Household& household = input_.households[static_cast<std::size_t>(serving.household)];
      const Need& need = household.needs[static_cast<std::size_t>(serving.need)];
      std::optional<Date> date;
      if (serving.visit >= 0) {
        const int column = Draft::column_of(address, serving.visit);
        PlannedStop& stop = plan_.stops[at_[static_cast<std::size_t>(serving.address)].at(column)];
        date = stop.date;
        Delivery delivery{household.reference, need.item, serving.need, need.packs, *date > need.deliver_by, {}};
        for (const rounds::Part& part : serving.parts) {
          const AgencyLot& lot = (*input_.lots)[static_cast<std::size_t>(part.lot)];
          delivery.parts.push_back({lot.lot, part.packs, lot.expires, lot.arrives});
        }
        stop.deliveries.push_back(std::move(delivery));
      }
      if (date ? *date <= need.deliver_by : need.deliver_by >= last_date(input_)) continue;
      plan_.left.push_back({household.reference, address.key, need.item, serving.need, need.packs, need.deliver_by,
                            date, static_cast<double>(risk_ppm(need, date.value_or(last_date(input_)))) / 1e6,
                            reasons_for(input_, need, household, serving.stock_short, load_)});
    }
  }

  void figures() {
    PlanFigures& f = plan_.figures;
    f.visits = static_cast<long>(plan_.stops.size());
    f.visits_bound = solved_.visits_bound;
    f.risk = static_cast<double>(shares_.risk_ppm) / 1e6;
    f.risk_bound = static_cast<double>(solved_.risk_bound_ppm) / 1e6;
    f.confirmed = static_cast<long>(input_.confirmed.size());
    f.moved = static_cast<long>(plan_.moved.size());
    f.least_visits_proven = solved_.least_visits_proven;
    f.proven = solved_.proven;
    for (const Left& left : plan_.left)
      if (std::find(left.reasons.begin(), left.reasons.end(), Why::stock_short) != left.reasons.end())
        f.stock_short = true;
    f.parts = solved_.parts, f.alone = solved_.alone, f.by_flow = solved_.by_flow;
    f.repaired = solved_.repaired, f.searched = solved_.searched;
  }

  const PlanInput& input_;
  const Grid& grid_;
  const Solved& solved_;
  const Shares& shares_;
  std::set<AddressAndRound> confirmed_, pinned_, made_;
  std::vector<std::map<int, std::size_t>> at_;  ///< the stop, by address and column
  std::vector<int> load_;                       ///< by round
  Plan plan_;
};

}  // namespace

Plan written(const PlanInput& input, const Grid& grid, const Solved& solved, const Shares& shares) {
  return Writer(input, grid, solved, shares).run();
}

std::vector<Why> reasons_for(const PlanInput& input, const Need& need, const Household& household, bool stock_short,
                             const std::vector<int>& load) {
  bool any = false, open = false, room = false, kept_out = false;
  for (std::size_t r = 0; r < input.rounds.size(); ++r) {
    const Round& round = input.rounds[r];
    if (round.area != household.area || round.date < need.earliest || round.date > need.deliver_by ||
        round.date > last_date(input))
      continue;
    any = true;
    if (round.date < stock::days_after(input.today, round.lead_days)) continue;
    const bool ruled_out = std::any_of(input.pins.begin(), input.pins.end(), [&](const Pin& pin) {
      return !pin.stop && pin.address == stop_key(household) && pin.round == round.id;
    });
    if (ruled_out) {
      kept_out = true;
      continue;
    }
    open = true;
    if (load[r] < round.stops) room = true;
  }
  std::vector<Why> reasons;
  if (!any) reasons.push_back(Why::no_round);
  if (any && !open && !kept_out) reasons.push_back(Why::lead_time);
  if (open && !room && !stock_short) reasons.push_back(Why::rounds_full);
  if (stock_short) reasons.push_back(Why::stock_short);
  if (kept_out) reasons.push_back(Why::kept_out);
  if (reasons.empty()) reasons.push_back(Why::not_found);
  return reasons;
}

}  // namespace cellarer::rounds
