// SPDX-License-Identifier: MIT
#include "server/service/waste.hpp"

#include "model/stock/dates.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"
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

StoreWaste store_waste(const std::vector<store::StoredAgencyEntry>& entries, const LotFacts& lots, Instant since,
                       Instant now) {
  const auto books = agency_record(entries, lots);
  const Zone zone = date::locate_zone(books.calendar.zone_name.empty() ? "UTC" : books.calendar.zone_name);
  const auto* packed = books.calendar.item(stock::cells_item);
  const std::int64_t pieces = packed != nullptr ? packed->pieces_per_pack : 1;
  StoreWaste waste;
  for (const StoredLot& lot : books.lots) {
    const bool there = lot.item == stock::cells_item && lot.packs > 0 && !lot.arrives;
    if (there && expired_on(lot.expires, stock::date_in(zone, now))) waste.expired_cells += lot.packs * pieces;
  }
  std::map<std::string, std::chrono::year_month> expiries;  // a lot that is all gone is in no books
  for (const auto& entry : entries) {
    if (entry.kind != desk::agency_stock) continue;
    const auto document = json::parse(entry.body);
    const json::Field body(document, "");
    if (body["item"].text(60) != stock::cells_item) continue;
    const auto number = body.find("lot");
    const bool numbered = number && !number->value().get_ref<const std::string&>().empty();
    const auto lot = numbered ? lots.right({stock::cells_item, number->text(60)}) : std::string();
    if (const auto expires = body.find("expires")) expiries[lot] = expires->month();
    if (body["what"].value() != "discarded" || entry.recorded_at < since || entry.recorded_at > now) continue;
    const auto expiry = expiries.find(lot);
    const bool expired =
        expiry != expiries.end() && expired_on(expiry->second, stock::date_in(zone, entry.recorded_at));
    (expired ? waste.expired_cells : waste.discarded_cells) += body["packs"].integer(0, 1'000'000) * pieces;
  }
  return waste;
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
