// SPDX-License-Identifier: MIT
#include "server/service/waste.hpp"

#include "model/stock/dates.hpp"
#include "server/service/household_forecast.hpp"

namespace cellarer::service {

namespace {

bool expired_on(const std::optional<std::chrono::year_month>& expires, stock::Date day) {
  return expires && stock::last_usable_date(*expires) < day;
}

void add_shelf(HomeWaste& waste, const HouseholdRecord& record, Instant now) {
  const auto today = stock::date_in(record.life.zone, now);
  for (const auto& line : stock_at(record, now).lines) {
    if (line.item == stock::cells_item && expired_on(line.expires, today)) waste.expired_cells += line.quantity;
  }
  for (const auto& event : record.stock) {
    const bool thrown = event.what == stock::Happened::discarded && event.line.item == stock::cells_item;
    if (!thrown || event.at < waste.since || event.at > now) continue;
    const bool expired = expired_on(event.line.expires, stock::date_in(record.life.zone, event.at));
    (expired ? waste.expired_cells : waste.discarded_cells) += event.line.quantity;
  }
}

}  // namespace

std::shared_ptr<const HomeWaste> WasteBook::kept(const std::string& household, const HomeWaste& wanted) {
  const std::lock_guard lock(mutex_);
  const auto found = kept_.find(household);
  if (found == kept_.end()) return nullptr;
  const HomeWaste& there = *found->second;
  const bool same = there.last_entry == wanted.last_entry && there.lots == wanted.lots &&
                    there.agency == wanted.agency && there.since == wanted.since;
  return same ? found->second : nullptr;
}

WasteBook::Answer WasteBook::of(HouseholdService& households, const std::string& agency, Instant since,
                                std::chrono::milliseconds at_most) {
  Answer answer;
  const auto end = std::chrono::steady_clock::now() + at_most;
  const Instant now = households.clock().now();
  life::LoadTables tables;
  households.for_each_of(agency, [&](const std::string& household) {
    const auto snapshot = households.snapshot(household);
    ++answer.of;
    HomeWaste waste{snapshot->last_entry, snapshot->lots, snapshot->agency, since, {}, 0, 0};
    auto ready = kept(household, waste);
    if (!ready) {
      if (std::chrono::steady_clock::now() > end) return;
      waste.left = review::charges_left(snapshot->record.life, since, now, tables);
      add_shelf(waste, snapshot->record, now);
      ready = std::make_shared<const HomeWaste>(std::move(waste));
      const std::lock_guard lock(mutex_);
      kept_[household] = ready;
    }
    answer.homes.push_back({household, snapshot->record.area, std::move(ready)});
  });
  return answer;
}

std::vector<stock::FreshLife> fresh_lives(const life::HouseholdForecast& forecast) {
  std::vector<stock::FreshLife> lives;
  for (const auto& side : forecast.sides) {
    if (side.set_life_h && side.set_life_log_sd && *side.set_life_h > 0)
      lives.push_back({*side.set_life_h, *side.set_life_log_sd});
  }
  return lives;
}

}  // namespace cellarer::service
