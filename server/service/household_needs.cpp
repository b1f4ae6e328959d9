// SPDX-License-Identifier: MIT
#include "server/service/household_needs.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::service {

using rounds::Need;

namespace {

constexpr rounds::NeedRules rules;

/// The first need, not later than what the order-by date says. What is then later carries at least the risk that the
/// service level leaves.
void hold_to(std::vector<Need>& needs, rounds::Date by) {
  if (needs.empty() || needs.front().deliver_by <= by) return;
  Need& first = needs.front();
  first.deliver_by = by;
  first.earliest = std::min(first.earliest, by);
  const auto from = stock::days_after(by, 1);
  if (!first.risk.empty() && first.risk.front().from > from)
    first.risk.insert(first.risk.begin(), {from, std::min(1 - rules.service_level, first.risk.front().probability)});
}

/// How many packs a delivery on the first deliver-by date brings: every one for which there is room by then.
int packs_of_first(const std::vector<Need>& needs) {
  if (needs.empty()) return 0;
  const auto by = needs.front().deliver_by;
  return static_cast<int>(
      std::count_if(needs.begin(), needs.end(), [&](const Need& need) { return need.earliest <= by; }));
}

SideSays side_says(const life::SideForecast& side) {
  SideSays says{side.phrase, side.change_by, side.warned_at, side.stopped_at, std::nullopt};
  if (side.warned_at || side.stopped_at || side.phrase == life::Phrase::no_forecast) return says;
  for (const life::Night& night : side.nights)
    if (night.tonight) says.tonight = night.window;
  return says;
}

struct Frame {
  const HouseholdRecord& record;
  const RoundCalendar& calendar;
  const std::map<std::string, int>& storage;
  rounds::Date today;
  int cells_per_set = 2;
};

rounds::ItemOutlook units_of(const Frame& frame, const ItemOutlook& item, std::vector<stock::CountPmf> used) {
  const bool cells = item.item == stock::cells_item;
  const int per_unit = cells ? frame.cells_per_set : 1;
  rounds::ItemOutlook outlook;
  outlook.item = item.item;
  outlook.usable_units = item.usable / per_unit;
  outlook.units_per_pack = std::max(item.pieces_per_pack / per_unit, 1);
  const auto recorded = frame.storage.find(item.item);
  if (recorded != frame.storage.end()) {
    outlook.storage_units = recorded->second / per_unit;
  } else {
    const auto cover = std::min<std::size_t>(static_cast<std::size_t>(frame.calendar.cover_days), used.size() - 1);
    outlook.storage_units = stock::smallest_covering(used[cover], rules.service_level) + outlook.units_per_pack;
  }
  outlook.used = std::move(used);
  return outlook;
}

ItemOutlook item_outlook(const Frame& frame, const ForecastAnswer& answer, const stock::ItemForecast& forecast,
                         const ItemTerms& terms) {
  ItemOutlook item;
  item.item = forecast.item;
  item.days = forecast.days;
  item.please_count = forecast.please_count;
  item.usable = forecast.usable;
  const auto* packed = frame.calendar.item(forecast.item);
  item.pieces_per_pack = packed != nullptr ? packed->pieces_per_pack : terms.pack_size;
  auto demand = demand_of(frame.record, answer, forecast.item);
  item.lasts_known = std::any_of(demand.scenarios.begin(), demand.scenarios.end(),
                                 [](const auto& scenario) { return !scenario.streams.empty(); });
  if (!item.lasts_known) return item;
  demand.days = std::min(demand.days, frame.calendar.horizon_days + 1);
  item.needs = rounds::needs_of(units_of(frame, item, stock::used_by_day(demand)), frame.today, rules);
  if (forecast.order_by) {
    const int lead = forecast.order_late ? 0 : static_cast<int>(std::ceil(terms.lead_days));
    hold_to(item.needs, stock::days_after(*forecast.order_by, lead));
  }
  if (!item.needs.empty()) item.deliver_by = item.needs.front().deliver_by;
  item.packs = packs_of_first(item.needs);
  return item;
}

}  // namespace

const ItemOutlook* Outlook::item(const std::string& name) const {
  const auto at = std::find_if(items.begin(), items.end(), [&](const ItemOutlook& one) { return one.item == name; });
  return at == items.end() ? nullptr : &*at;
}

Outlook outlook_of(const HouseholdRecord& record, const RoundCalendar& calendar,
                   const std::map<std::string, int>& storage, Instant as_of) {
  const auto answer = household_forecast(record, as_of);
  Outlook outlook;
  outlook.as_of = as_of;
  outlook.zone = record.life.zone;
  outlook.today = stock::date_in(record.life.zone, as_of);
  for (const auto side : both_sides) {
    outlook.sides[side == Side::left ? 0 : 1] = side_says(answer.life.side(side));
  }
  const Frame frame{record, calendar, storage, outlook.today, cells_in_series_at(record, as_of)};
  for (const auto& forecast : answer.stock) {
    const bool brought = calendar.items.empty() || calendar.item(forecast.item) != nullptr;
    if (!brought) continue;
    auto item = item_outlook(frame, answer, forecast, terms_of(record, forecast.item));
    const bool used = item.item == stock::cells_item || item.lasts_known;
    if (!used) continue;
    outlook.rounds_bring_all = outlook.rounds_bring_all && item.lasts_known;
    outlook.items.push_back(std::move(item));
  }
  return outlook;
}

}  // namespace cellarer::service
