// SPDX-License-Identifier: MIT
#include "server/service/household_forecast.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "model/life/forecast_with_tables.hpp"
#include "model/life/planned.hpp"
#include "model/review/profile_effect.hpp"
#include "model/stock/other_items.hpp"
#include "server/service/shared_load_tables.hpp"

namespace cellarer::service {

namespace {

/// What stock has to know of each side; none where it has no forecast.
Outlooks outlooks_of(const HouseholdRecord& record, const ForecastAnswer& answer) {
  constexpr double z_between_05_and_95 = 2 * 1.6449;
  Outlooks outlooks;
  const Zone zone = record.life.zone;
  const auto today = stock::date_in(zone, answer.life.as_of);
  for (const auto which : both_sides) {
    const auto& side = answer.life.side(which);
    if (!side.set_life_h || !side.set_life_log_sd) continue;
    stock::SideOutlook outlook;
    outlook.fresh_median_h = side.shortest_life_h.value_or(*side.set_life_h);
    outlook.fresh_log_sd = *side.set_life_log_sd;
    if (side.change_by)
      outlook.change_by_day = std::max(stock::days_between(today, stock::date_in(zone, *side.change_by)), 0);
    if (side.remaining_h && side.remaining_h->p05 > 0) {
      outlook.remaining_log_sd = std::log(side.remaining_h->p95 / side.remaining_h->p05) / z_between_05_and_95;
    }
    outlooks[slot(which)] = outlook;
  }
  return outlooks;
}

/// Where one of the sides has no forecast, its cells are used up all the same: it is reckoned like the other.
std::vector<stock::SideOutlook> both_of(const Outlooks& outlooks) {
  std::vector<stock::SideOutlook> found;
  for (const auto& outlook : outlooks)
    if (outlook) found.push_back(*outlook);
  if (found.size() == 1) {
    found.push_back(found.front());
    found.back().change_by_day = 0;
  }
  return found;
}

stock::ChangeHabit habit_of(const life::Policy& policy) {
  stock::ChangeHabit habit;
  habit.risk_limit = policy.risk_limit;
  habit.miss_probability = policy.miss_probability;
  return habit;
}

stock::ReorderPolicy reorder_policy(const ItemTerms& terms) {
  stock::ReorderPolicy policy;
  policy.lead_days = static_cast<int>(std::ceil(terms.lead_days));
  policy.pack_size = terms.pack_size;
  return policy;
}

stock::ItemUse use_of(const ItemTerms& terms) {
  stock::ItemUse use;
  if (terms.every_days) use.interval = stock::ByInterval{std::max(*terms.every_days, 1.0)};
  if (terms.per_cell_change) use.per_change = stock::PerCellChange{*terms.per_cell_change};
  return use;
}

/// Every item that is kept or has terms; cells first.
std::vector<std::string> items_of(const HouseholdRecord& record, const stock::Stock& stock) {
  std::set<std::string> others;
  for (const auto& line : stock.lines) others.insert(line.item);
  for (const auto& terms : record.items) others.insert(terms.item);
  others.erase(stock::cells_item);
  std::vector<std::string> items{stock::cells_item};
  items.insert(items.end(), others.begin(), others.end());
  return items;
}

/// A visit after the next change is a change of its own, on its day.
void add_visits(stock::Demand& demand, const HouseholdRecord& record, const ForecastAnswer& answer) {
  const Zone zone = record.life.zone;
  const auto today = stock::date_in(zone, answer.life.as_of);
  for (const auto which : both_sides) {
    const auto& side = answer.life.side(which);
    if (!side.set_life_h) continue;
    for (const auto by : life::visits_after(record.life, which, side.change_by.value_or(answer.life.as_of))) {
      const int day = stock::days_between(today, stock::date_in(zone, by));
      if (day < 0 || day >= demand.days) continue;
      stock::Stream once{stock::DayPmf(static_cast<std::size_t>(demand.days), 0.0), {}, 1};
      once.first[static_cast<std::size_t>(day)] = 1;
      for (auto& scenario : demand.scenarios) scenario.streams.push_back(once);
    }
  }
}

stock::Demand cells_demand(const HouseholdRecord& record, const ForecastAnswer& answer, const Outlooks& outlooks) {
  auto demand = stock::cells_demand(both_of(outlooks), habit_of(record.life.policy),
                                    cells_in_series_at(record, answer.life.as_of));
  add_visits(demand, record, answer);
  return demand;
}

stock::Demand cells_demand(const HouseholdRecord& record, const ForecastAnswer& answer) {
  return cells_demand(record, answer, outlooks_of(record, answer));
}

std::vector<std::string> cautions_of(const HouseholdRecord& record, const ForecastAnswer& answer) {
  std::vector<std::string> cautions{
      "This page knows cells and stock only, not whether the antenna is in place or breathing is enough.",
      "Reckoned for cells that run down, new, alkaline and of one type, at 15 to 30 degrees Celsius. A sudden failure "
      "of a "
      "cell, a contact, the unit or an antenna is not in these figures."};
  const auto has = [&](life::Question question) {
    return std::any_of(answer.life.sides.begin(), answer.life.sides.end(), [&](const life::SideForecast& side) {
      return std::find(side.questions.begin(), side.questions.end(), question) != side.questions.end();
    });
  };
  if (has(life::Question::which_cells))
    cautions.push_back("Part-used or unknown cells are in a side: fresh cells at the next changing time.");
  if (has(life::Question::which_settings) || has(life::Question::which_unit))
    cautions.push_back("Not all is known since the stay in hospital: fresh cells in both sides, and ask the clinic.");
  if (has(life::Question::wrong_cells))
    cautions.push_back("Cells without a forecast are in a side: use new alkaline cells of one type.");
  const bool invented = std::any_of(record.life.units.begin(), record.life.units.end(),
                                    [](const life::UnitInUse& unit) { return unit.stimulator.basis == "invented"; });
  if (invented)
    cautions.push_back("The unit's profile is invented, for trying things out: no figure here is about a real unit.");
  return cautions;
}

life::HouseholdForecast forecast_of_sides(const HouseholdRecord& record, Instant as_of,
                                          life::Chart chart = life::Chart::not_wanted) {
  static SharedLoadTables tables;  // what they hold follows from their keys alone
  auto learned = record.lessons ? record.lessons->take() : std::make_unique<life::Learned>();
  auto made = life::forecast(record.life, as_of, tables, *learned, chart);
  if (record.lessons) record.lessons->put_back(std::move(learned));
  for (const auto& before : record.before_approval)
    made = review::never_later(std::move(made), life::forecast(before.life, as_of, tables), before.approved);
  return made;
}

}  // namespace

ItemTerms terms_of(const HouseholdRecord& record, const std::string& item) {
  const auto found = std::find_if(record.items.begin(), record.items.end(),
                                  [&](const ItemTerms& terms) { return terms.item == item; });
  if (found != record.items.end()) return *found;
  ItemTerms terms;
  terms.item = item;
  return terms;
}

stock::Demand demand_of(const HouseholdRecord& record, const ForecastAnswer& answer, const std::string& item) {
  const auto cells = cells_demand(record, answer);
  return item == stock::cells_item ? cells : stock::item_demand(use_of(terms_of(record, item)), cells);
}

stock::Stock stock_at(const HouseholdRecord& record, Instant as_of) {
  stock::LedgerRules rules;
  rules.cells_per_set = cells_in_series_at(record, as_of);
  return stock::stock_after(record.stock, as_of, rules);
}

ForecastAnswer household_forecast(const HouseholdRecord& record, Instant as_of, life::Chart chart) {
  ForecastAnswer answer;
  answer.life = forecast_of_sides(record, as_of, chart);
  answer.recalled = heed_recalls(record, answer.life);
  const auto books = stock_at(record, as_of);
  answer.recalled_lines = recalled_of(record, books, as_of);
  const auto stock = usable_of(record, books, as_of);
  const auto today = stock::date_in(record.life.zone, as_of);
  const auto outlooks = outlooks_of(record, answer);
  answer.coming = weeks_ahead(record, answer.life, outlooks);
  const auto cells = cells_demand(record, answer, outlooks);
  answer.stock_lasts_known = std::any_of(cells.scenarios.begin(), cells.scenarios.end(),
                                         [](const auto& scenario) { return !scenario.streams.empty(); });
  for (const auto& item : items_of(record, books)) {
    const auto terms = terms_of(record, item);
    const auto demand = item == stock::cells_item ? cells : stock::item_demand(use_of(terms), cells);
    answer.stock.push_back(stock::reorder(item, stock, demand, today, reorder_policy(terms)));
  }
  answer.cautions = cautions_of(record, answer);
  return answer;
}

std::vector<stock::Packing> packing_for(const HouseholdRecord& record, const Stay& stay, Instant as_of) {
  ForecastAnswer answer;
  answer.life = forecast_of_sides(record, as_of);
  answer.recalled = heed_recalls(record, answer.life);
  return packing_for(record, stay, answer);
}

std::vector<stock::Packing> packing_for(const HouseholdRecord& record, const Stay& stay, const ForecastAnswer& answer) {
  const Instant as_of = answer.life.as_of;
  const auto stock = usable_of(record, stock_at(record, as_of), as_of);
  const auto zone = record.life.zone;
  const auto today = stock::date_in(zone, as_of);
  const auto cells = cells_demand(record, answer);
  std::vector<stock::Packing> packed;
  for (const auto& item : items_of(record, stock)) {
    const auto terms = terms_of(record, item);
    const bool used = item == stock::cells_item || terms.every_days || terms.per_cell_change;
    if (!used) continue;
    const auto demand = item == stock::cells_item ? cells : stock::item_demand(use_of(terms), cells);
    packed.push_back(
        stock::pack(item, stock, demand, today, stock::date_in(zone, stay.from), stock::date_in(zone, stay.to)));
  }
  return packed;
}

}  // namespace cellarer::service
