// SPDX-License-Identifier: MIT
#include "server/service/plan_input.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace cellarer::service {

namespace {

class Gatherer {
 public:
  explicit Gatherer(const BoardFrame& frame) : frame_(frame) {}

  PlanMaterial run(const std::vector<DeskHousehold>& households) {
    frame();
    for (const DeskHousehold& one : households) {
      if (!one.desk.closed_at) household(one);
    }
    stock();
    drop_too_many_decisions();
    return std::move(found_);
  }

 private:
  rounds::PlanInput& input() { return found_.input; }

  void frame() {
    input().today = frame_.coming.today;
    input().horizon_days = frame_.agency.calendar.horizon_days;
    input().items = frame_.agency.calendar.items;
    for (const rounds::Round& round : frame_.coming.all) {
      if (!is_plannable(frame_.agency, round.id)) continue;
      input().rounds.push_back(round);
      rounds_.insert(round.id);
      areas_.insert(round.area);
    }
  }

  bool not_planned(const DeskHousehold& one, std::string what, std::string remedy) {
    found_.not_planned.push_back({one.household, std::move(what), std::move(remedy)});
    return false;
  }

  bool can_be_planned(const DeskHousehold& one) {
    const auto& area = one.desk.area;
    if (!area) return not_planned(one, "has no area", "give it one of the areas that rounds serve");
    if (areas_.count(*area) == 0) {
      return not_planned(one, "no round to come serves its area \"" + *area + "\"",
                         "add a round there, or give the household another area");
    }
    if (!one.outlook) return not_planned(one, "its forecast is not computed yet", "read the plan again in a moment");
    if (!one.outlook->rounds_bring_all) {
      return not_planned(one, "how long its cells last is not known",
                         "record its unit, settings and cells; until then ask, and bring what is asked for");
    }
    const auto [at, first] = area_of_stop_.emplace(stop_of(one), *area);
    if (first || at->second == *area) return true;
    return not_planned(one, "its stop " + stop_of(one) + " is in \"" + at->second + "\" for another household",
                       "give one stop one area");
  }

  void household(const DeskHousehold& one) {
    if (!can_be_planned(one)) return;
    const std::string stop = stop_of(one);
    rounds::Household household{one.household, *one.desk.area, stop, {}};
    for (const ItemOutlook& item : one.outlook->items) {
      const auto needs = needs_beside(item, under_way(one.desk, frame_.agency, item.item, frame_.now));
      household.needs.insert(household.needs.end(), needs.begin(), needs.end());
    }
    input().households.push_back(std::move(household));
    for (const DeskDelivery& delivery : one.desk.deliveries) {
      const bool stands = delivery.answer == Answer::open && rounds_.count(delivery.round) > 0;
      if (stands && confirmed_.emplace(stop, delivery.round).second)
        input().confirmed.push_back({stop, delivery.round});
    }
    for (const StopDecision& decision : one.desk.decisions) {
      if (rounds_.count(decision.round) > 0 && decided_.emplace(stop, decision.round).second)
        input().pins.push_back({stop, decision.round, decision.stop});
    }
  }

  void stock() {
    if (!frame_.agency.keeps_stock) return;
    input().lots.emplace();
    for (const StoredLot& lot : frame_.agency.lots) {
      const bool overdue = lot.arrives && *lot.arrives < frame_.coming.today;  // nobody has said that it came
      if (lot.packs > 0 && !overdue)
        input().lots->push_back({lot.item, lot.lot, lot.packs, lot.expires, lot.recalled, lot.arrives});
    }
  }

  /// A limit that was lowered below what was decided: the decisions of that round are forgotten, the page shows it.
  void drop_too_many_decisions() {
    std::map<std::string, int> made;
    for (const auto& pin : input().pins)
      if (pin.stop) ++made[pin.round];
    for (const rounds::Round& round : input().rounds) {
      if (made[round.id] > round.stops)
        std::erase_if(input().pins, [&](const rounds::Pin& pin) { return pin.stop && pin.round == round.id; });
    }
  }

  const BoardFrame& frame_;
  PlanMaterial found_;
  std::set<std::string> rounds_, areas_;
  std::map<std::string, std::string> area_of_stop_;
  std::set<std::pair<std::string, std::string>> confirmed_, decided_;
};

}  // namespace

std::string stop_of(const DeskHousehold& household) { return household.desk.stop.value_or(household.household); }

PlanMaterial plan_material(const std::vector<DeskHousehold>& households, const BoardFrame& frame) {
  return Gatherer(frame).run(households);
}

}  // namespace cellarer::service
