// SPDX-License-Identifier: MIT
#include "model/rounds/adjust.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>
#include <tuple>

#include "model/rounds/grid.hpp"
#include "model/rounds/share.hpp"
#include "model/rounds/written.hpp"

namespace cellarer::rounds {

namespace {

using Key = std::tuple<std::string, std::string, int>;  ///< household, item, need
Key key_of(const Left& left) { return {left.household, left.item, left.need}; }

const Round* round_named(const PlanInput& input, const std::string& id) {
  const auto at =
      std::find_if(input.rounds.begin(), input.rounds.end(), [&](const Round& round) { return round.id == id; });
  return at == input.rounds.end() ? nullptr : &*at;
}

const Household* somebody_at(const PlanInput& input, const std::string& address) {
  const auto at = std::find_if(input.households.begin(), input.households.end(),
                               [&](const Household& household) { return stop_key(household) == address; });
  return at == input.households.end() ? nullptr : &*at;
}

bool is_stop(const Plan& plan, const std::string& address, const std::string& round) {
  return std::any_of(plan.stops.begin(), plan.stops.end(),
                     [&](const PlannedStop& stop) { return stop.address == address && stop.round == round; });
}

void refuse_what_cannot_be(const PlanInput& input, const Plan& plan, const Change& change) {
  const auto refuse = [](const std::string& why) { throw std::invalid_argument(why); };
  if (!change.from && !change.to) refuse("the change names no round: give the one to leave, the one to go on, or both");
  if (!somebody_at(input, change.address))
    refuse("no household has the address " + change.address + ": give one of the plan's");
  for (const auto& round : {change.from, change.to})
    if (round && !round_named(input, *round)) refuse("the calendar has no round " + *round + ": give one of its names");
  if (change.from && !is_stop(plan, change.address, *change.from))
    refuse(change.address + " is no stop of " + *change.from + ": give a round on which it is");
  if (change.to && is_stop(plan, change.address, *change.to))
    refuse(change.address + " is a stop of " + *change.to + " already: give another round");
}

/// Areas that can feel the change: by the address, by the round, and by pins between areas.
std::set<std::string> areas_concerned(const PlanInput& input, const Change& change) {
  std::set<std::string> areas{somebody_at(input, change.address)->area};
  if (change.to) areas.insert(round_named(input, *change.to)->area);
  for (bool more = true; more;) {
    more = false;
    for (const Pin& pin : input.pins) {
      const std::string &home = somebody_at(input, pin.address)->area, &away = round_named(input, pin.round)->area;
      if (!pin.stop || areas.count(home) == areas.count(away)) continue;
      areas.insert({home, away});
      more = true;
    }
  }
  return areas;
}

/// The input of these areas alone, without the packs that go elsewhere.
PlanInput part_of(const PlanInput& input, const Plan& plan, const std::set<std::string>& areas) {
  PlanInput part = input;
  const auto elsewhere = [&](const std::string& area) { return !areas.count(area); };
  std::erase_if(part.households, [&](const Household& household) { return elsewhere(household.area); });
  std::erase_if(part.rounds, [&](const Round& round) { return elsewhere(round.area); });
  std::set<std::string> addresses, rounds;
  for (const Household& household : part.households) addresses.insert(stop_key(household));
  for (const Round& round : part.rounds) rounds.insert(round.id);
  const auto unknown = [&](const auto& stop) { return !addresses.count(stop.address) || !rounds.count(stop.round); };
  std::erase_if(part.confirmed, unknown);
  std::erase_if(part.pins, unknown);
  if (!part.lots) return part;
  for (const PlannedStop& stop : plan.stops) {
    if (addresses.count(stop.address)) continue;
    for (const Delivery& delivery : stop.deliveries)
      for (const LotPart& gone : delivery.parts)
        for (AgencyLot& lot : *part.lots)
          if (lot.item == delivery.item && lot.lot == gone.lot && lot.arrives == gone.arrives) lot.packs -= gone.packs;
  }
  return part;
}

/// The stops as given, shared out and judged; nothing is looked for.
Plan as_it_stands(PlanInput input, const std::set<std::pair<std::string, std::string>>& stops) {
  input.pins.clear();
  for (const auto& [address, round] : stops) input.pins.push_back({address, round, true});
  for (Round& round : input.rounds) round.stops = std::max(round.stops, static_cast<int>(input.households.size()));
  const Grid grid = grid_of(input);
  std::map<std::string, std::set<std::string>> rounds_of;
  for (const auto& [address, round] : stops) rounds_of[address].insert(round);
  Solved solved{Draft(grid), 0, std::nullopt, false, false, 0, 0, 0, 0, 0};
  for (std::size_t a = 0; a < grid.addresses.size(); ++a) {
    const Address& address = grid.addresses[a];
    std::vector<int> visits;
    for (int v = 0; v < address.size(); ++v) {
      const Column& column = grid.columns[static_cast<std::size_t>(Draft::column_of(address, v))];
      const bool there = std::any_of(column.rounds.begin(), column.rounds.end(), [&](int r) {
        return rounds_of[address.key].count(input.rounds[static_cast<std::size_t>(r)].id) != 0;
      });
      if (there) visits.push_back(v);
    }
    solved.draft.put(grid, static_cast<int>(a), std::move(visits));
  }
  return written(input, grid, solved, share_out(input, grid, solved.draft));
}

std::vector<Left> left_in_first_only(const Plan& first, const Plan& second) {
  std::map<Key, double> risk;
  for (const Left& left : second.left) risk[key_of(left)] = left.risk;
  std::vector<Left> only;
  for (const Left& left : first.left) {
    const auto at = risk.find(key_of(left));
    if (at != risk.end() && at->second >= left.risk) continue;
    only.push_back(left);
    only.back().reasons.clear();
  }
  return only;
}

}  // namespace

Consequence consequence_of(const PlanInput& input, const Plan& plan, const Change& change) {
  refuse_what_cannot_be(input, plan, change);
  PlanInput part = part_of(input, plan, areas_concerned(input, change));
  std::set<std::string> addresses;
  for (const Household& household : part.households) addresses.insert(stop_key(household));
  std::set<std::pair<std::string, std::string>> stops;
  for (const PlannedStop& stop : plan.stops)
    if (addresses.count(stop.address)) stops.emplace(stop.address, stop.round);

  Consequence consequence;
  const Plan before = as_it_stands(part, stops);
  auto changed = stops;
  if (change.from) changed.erase({change.address, *change.from});
  if (change.to) changed.emplace(change.address, *change.to);
  const Plan after = as_it_stands(part, changed);
  consequence.falls = left_in_first_only(after, before);
  consequence.no_longer = left_in_first_only(before, after);
  consequence.risk_more = after.figures.risk - before.figures.risk;
  if (change.to) {
    const Round& round = *round_named(part, *change.to);
    const auto on_it =
        std::count_if(changed.begin(), changed.end(), [&](const auto& stop) { return stop.second == round.id; });
    consequence.over_the_limit = on_it > round.stops;
    consequence.leaves_too_soon = round.date < stock::days_after(input.today, round.lead_days);
  }

  if (change.from) consequence.pins.push_back({change.address, *change.from, false});
  if (change.to) consequence.pins.push_back({change.address, *change.to, true});
  for (const Pin& pin : consequence.pins) {
    std::erase_if(part.pins, [&](const Pin& old) { return old.address == pin.address && old.round == pin.round; });
    part.pins.push_back(pin);
  }
  part.confirmed.clear();  // the plan at hand is what should move least, what was confirmed in it first
  for (const PlannedStop& stop : plan.stops)
    if (addresses.count(stop.address)) part.confirmed.push_back({stop.address, stop.round});
  consequence.replanned = rounds::plan(part);
  consequence.visits_more = static_cast<int>(consequence.replanned.figures.visits) - static_cast<int>(stops.size());
  consequence.risk_more_replanned = consequence.replanned.figures.risk - before.figures.risk;
  std::set<std::pair<std::string, std::string>> confirmed;
  for (const ConfirmedStop& stop : input.confirmed) confirmed.emplace(stop.address, stop.round);
  for (const ConfirmedStop& stop : consequence.replanned.moved) {
    if (!confirmed.count({stop.address, stop.round})) continue;
    const bool own = stop.address == change.address && change.from == stop.round;
    consequence.moves.insert(own ? consequence.moves.begin() : consequence.moves.end(), stop);
  }
  return consequence;
}

}  // namespace cellarer::rounds
