// SPDX-License-Identifier: MIT
#include "model/rounds/picking.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace cellarer::rounds {

namespace {

/// The needs of one household and item at one stop become one line; parts of one lot are added up.
void add(SheetStop& stop, const Delivery& delivery) {
  auto line = std::find_if(stop.lines.begin(), stop.lines.end(), [&](const SheetLine& one) {
    return one.household == delivery.household && one.item == delivery.item;
  });
  if (line == stop.lines.end()) line = stop.lines.insert(line, {delivery.household, delivery.item, {}, 0, false});
  line->packs += delivery.packs;
  line->late = line->late || delivery.late;
  const std::vector<LotPart> unknown{{"", delivery.packs, {}}};
  for (const LotPart& part : delivery.parts.empty() ? unknown : delivery.parts) {
    auto lot =
        std::find_if(line->parts.begin(), line->parts.end(), [&](const LotPart& one) { return one.lot == part.lot; });
    if (lot == line->parts.end())
      line->parts.push_back(part);
    else
      lot->packs += part.packs;
  }
}

std::vector<PickLine> picking_of(const std::vector<SheetStop>& stops) {
  std::vector<PickLine> picking;
  for (const SheetStop& stop : stops)
    for (const SheetLine& line : stop.lines)
      for (const LotPart& part : line.parts) {
        auto pick = std::find_if(picking.begin(), picking.end(),
                                 [&](const PickLine& one) { return one.item == line.item && one.lot == part.lot; });
        if (pick == picking.end()) pick = picking.insert(pick, {line.item, part.lot, 0, part.expires});
        pick->packs += part.packs;
      }
  std::sort(picking.begin(), picking.end(), [](const PickLine& a, const PickLine& b) {
    const bool a_keeps = !a.expires, b_keeps = !b.expires;  // what does not expire comes last
    return std::tuple{a.item, a_keeps, a.expires.value_or(std::chrono::year_month{}), a.lot} <
           std::tuple{b.item, b_keeps, b.expires.value_or(std::chrono::year_month{}), b.lot};
  });
  return picking;
}

}  // namespace

std::vector<RoundSheet> sheets_of(const PlanInput& input, const Plan& plan) {
  std::map<std::string, const Round*> rounds;
  for (const Round& round : input.rounds) rounds.emplace(round.id, &round);
  std::vector<RoundSheet> sheets;
  for (const PlannedStop& stop : plan.stops) {  // by date, round, address
    if (sheets.empty() || sheets.back().round != stop.round) {
      const Round& round = *rounds.at(stop.round);
      sheets.push_back({round.id, round.area, round.date, round.stops, {}, {}});
    }
    SheetStop at{stop.address, stop.confirmed, {}};
    for (const Delivery& delivery : stop.deliveries) add(at, delivery);
    std::sort(at.lines.begin(), at.lines.end(), [](const SheetLine& a, const SheetLine& b) {
      return std::tie(a.household, a.item) < std::tie(b.household, b.item);
    });
    sheets.back().stops.push_back(std::move(at));
  }
  for (RoundSheet& sheet : sheets) sheet.picking = picking_of(sheet.stops);
  return sheets;
}

}  // namespace cellarer::rounds
