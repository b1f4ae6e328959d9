// SPDX-License-Identifier: MIT
#include "server/service/plan_lines.hpp"

#include <algorithm>
#include <tuple>

namespace cellarer::service {

namespace {

void add_to(DeliveryLine& line, const rounds::Delivery& delivery, int pieces_per_pack) {
  line.item = delivery.item;
  line.pieces_per_pack = pieces_per_pack;
  line.packs += delivery.packs;
  auto parts = delivery.parts;
  if (parts.empty()) parts.push_back({"", delivery.packs, std::nullopt});
  for (const rounds::LotPart& part : parts) {
    const auto same =
        std::find_if(line.lots.begin(), line.lots.end(), [&](const DeliveredLot& lot) { return lot.lot == part.lot; });
    if (same != line.lots.end())
      same->packs += part.packs;
    else
      line.lots.push_back({part.lot, part.packs, part.expires});
  }
}

}  // namespace

ByRound planned_lines(const PlanDraft& draft) {
  std::map<std::string, const Outlook*> outlooks;
  for (const DeskHousehold& one : draft.households) outlooks[one.household] = one.outlook.get();
  const auto pieces_per_pack = [&](const rounds::Delivery& delivery) {
    const Outlook* outlook = outlooks[delivery.household];
    const auto* item = outlook == nullptr ? nullptr : outlook->item(delivery.item);
    return item == nullptr ? 1 : item->pieces_per_pack;
  };
  std::map<std::tuple<std::string, std::string, std::string>, DeliveryLine> lines;
  for (const rounds::PlannedStop& stop : draft.plan.stops)
    for (const rounds::Delivery& delivery : stop.deliveries)
      add_to(lines[{stop.round, delivery.household, delivery.item}], delivery, pieces_per_pack(delivery));
  ByRound found;
  for (auto& [key, line] : lines) found[std::get<0>(key)][std::get<1>(key)].push_back(std::move(line));
  return found;
}

ByRound confirmed_lines(const PlanDraft& draft) {
  ByRound found;
  for (const DeskHousehold& one : draft.households)
    for (const DeskDelivery& delivery : one.desk.deliveries)
      if (delivery.answer == Answer::open) found[delivery.round][one.household] = delivery.lines;
  return found;
}

std::set<std::string> changed_rounds(const PlanDraft& draft) {
  const auto planned = planned_lines(draft), confirmed = confirmed_lines(draft);
  std::set<std::string> changed;
  for (const auto& [round, lines] : planned) {
    const auto before = confirmed.find(round);
    if (before == confirmed.end() || before->second != lines) changed.insert(round);
  }
  for (const auto& [round, lines] : confirmed)
    if (planned.count(round) == 0 && is_plannable(draft.frame.agency, round)) changed.insert(round);
  return changed;
}

}  // namespace cellarer::service
