// SPDX-License-Identifier: MIT
// Facts about the household and its stores: itself, its units, counts and deliveries.
#include <algorithm>

#include "server/service/facts.hpp"

namespace cellarer::service {

using json::Field;

namespace {

constexpr int most_pieces = 100'000;

/// References stand in addresses and on lists: letters, digits, and . _ - only.
std::string read_reference(const Field& reference) {
  const auto text = reference.text(64);
  const bool plain = std::all_of(text.begin(), text.end(), [](unsigned char c) {
    return std::isalnum(c) != 0 || c == '.' || c == '_' || c == '-';
  });
  if (!plain || text.front() == '.') {
    reference.refuse("out-of-range", "expected letters, digits, and . _ - only, such as h-000123");
  }
  return text;
}

life::Policy read_policy(const Field& policy) {
  life::Policy read;
  if (const auto limit = policy.find("risk_limit")) read.risk_limit = limit->number(1e-9, 0.01);
  if (const auto miss = policy.find("miss_probability")) read.miss_probability = miss->number(0, 0.5);
  return read;
}

}  // namespace

ItemTerms read_item_terms(const Field& item) {
  ItemTerms terms;
  terms.item = item["item"].text(60);
  if (const auto pack = item.find("pack_size")) terms.pack_size = pack->integer(1, 10'000);
  if (const auto lead = item.find("lead_days")) terms.lead_days = lead->number(0, 365);
  if (const auto every = item.find("every_days")) terms.every_days = every->number(1, 3650);
  if (const auto per_change = item.find("per_cell_change")) terms.per_cell_change = per_change->number(0, 100);
  return terms;
}

std::vector<std::chrono::minutes> read_changing_times(const Field& times) {
  std::vector<std::chrono::minutes> read;
  for (const Field& time : times.elements(12)) {
    const auto minutes = time.time_of_day();
    if (minutes >= std::chrono::hours(24)) time.refuse("out-of-range", "expected a time of day from 00:00 to 23:59");
    read.push_back(minutes);
  }
  if (read.empty()) times.refuse("out-of-range", "is empty: give at least one time of day, such as 21:30");
  std::sort(read.begin(), read.end());
  read.erase(std::unique(read.begin(), read.end()), read.end());
  return read;
}

Zone read_zone(const Field& zone) {
  const auto name = zone.text(60);
  try {
    return date::locate_zone(name);
  } catch (const std::exception&) {
    zone.refuse("out-of-range", "is no time zone of the IANA list: give one such as Europe/Oslo");
  }
}

HouseholdFact read_household_fact(const Field& body) {
  HouseholdFact fact;
  fact.reference = read_reference(body["household"]);
  if (const auto area = body.find("area")) fact.area = area->text(60);
  if (const auto stop = body.find("stop")) fact.stop = stop->text(60);
  fact.zone = read_zone(body["zone"]);
  fact.zone_name = body["zone"].text(60);
  fact.changing_times = read_changing_times(body["changing_times"]);
  if (const auto items = body.find("items")) {
    for (const Field& item : items->elements(100)) fact.items.push_back(read_item_terms(item));
  }
  if (const auto policy = body.find("policy")) fact.policy = read_policy(*policy);
  return fact;
}

UnitRecord read_unit(const Field& body) {
  UnitRecord unit;
  unit.serial = body["serial"].text(60);
  unit.stimulator = body["stimulator"].text(80);
  unit.from = read_time(body["from"]);
  if (const auto spare = body.find("spare")) unit.spare = spare->boolean();
  return unit;
}

stock::Line read_stock_line(const Field& line, int fewest) {
  stock::Line read;
  read.item = line["item"].text(60);
  if (const auto lot = line.find("lot")) read.lot = lot->text(60);
  read.quantity = line["quantity"].integer(fewest, most_pieces);
  if (const auto expires = line.find("expires")) read.expires = expires->month();
  read.place = usual_place;
  if (const auto place = line.find("place")) read.place = place->text(60);
  return read;
}

stock::Event read_stock_event(const Field& body, stock::Happened what) {
  stock::Event event;
  event.at = read_time(body["at"]);
  event.what = what;
  // An empty shelf is a count; nothing delivered, used or thrown away is no record.
  event.line = read_stock_line(body, what == stock::Happened::counted ? 0 : 1);
  return event;
}

RecallCall read_recall_call(const Field& body, Instant at, const std::string& who) {
  RecallCall call;
  const auto item = body.find("item");
  call.item = item ? item->text(60) : stock::cells_item;
  call.lot = body["lot"].text(60);
  if (const auto note = body.find("note")) note->text(200);
  call.at = at;
  call.who = who;
  return call;
}

}  // namespace cellarer::service
