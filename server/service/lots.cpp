// SPDX-License-Identifier: MIT
#include "server/service/lots.hpp"

#include <algorithm>

#include "model/life/stint.hpp"
#include "server/service/agency_lots.hpp"
#include "server/service/household_forecast.hpp"

namespace cellarer::service {

namespace {

class Shelf {
 public:
  LotAtHome& of(const std::string& item, const std::string& lot) {
    LotAtHome& at = lots_[{item, lot}];
    at.lot = {item, lot};
    return at;
  }
  std::vector<LotAtHome> all() {
    std::vector<LotAtHome> lots;
    lots.reserve(lots_.size());
    for (auto& [name, at] : lots_) lots.push_back(std::move(at));
    return lots;
  }

 private:
  std::map<LotName, LotAtHome> lots_;
};

void add_sets(Shelf& shelf, const life::Household& household, Instant now) {
  for (const Side side : both_sides) {
    for (const life::Stint& stint : life::stints(household, side, now)) {
      if (!stint.in.cells.lot) continue;
      LotAtHome& at = shelf.of(stock::cells_item, *stint.in.cells.lot);
      ++at.sets;
      at.last_used = std::max(at.last_used.value_or(stint.in.at), stint.in.at);
      if (!stint.out) at.in_side[side == Side::left ? 0 : 1] = stint.in.at;
      if (stint.in.cells.expires) at.expires = stint.in.cells.expires;
    }
  }
}

/// Of what is only planned nothing is out of the store, and what is recalled does not leave it.
bool is_on_its_way(const AgencyRecord& books, const DeskDelivery& delivery) {
  const auto state = books.state_of(delivery.round);
  return state == RoundState::loaded || state == RoundState::left || state == RoundState::done;
}

void add_deliveries(Shelf& shelf, const std::vector<DeskDelivery>& unanswered, const AgencyRecord& books) {
  for (const DeskDelivery& delivery : unanswered) {
    if (!is_on_its_way(books, delivery)) continue;
    for (const DeliveryLine& line : delivery.lines) {
      for (const DeliveredLot& lot : line.lots) {
        if (lot.lot.empty() || lot.packs == 0) continue;
        shelf.of(line.item, lot.lot)
            .on_its_way.push_back({delivery.round, delivery.date, lot.packs * line.pieces_per_pack, lot.expires});
      }
    }
  }
}

void add_to(LotLine& line, const LotAtHome& at) {
  line.lot = at.lot;
  if (!line.expires) line.expires = at.expires;
  line.received += at.turnover.received;
  line.used += at.turnover.used;
  line.discarded += at.turnover.discarded;
  line.unaccounted += at.turnover.unaccounted;
  line.in_homes += at.pieces();
  line.on_its_way += at.pieces_on_their_way();
  line.homes_on_its_way += at.on_its_way.empty() ? 0 : 1;
  line.homes += at.pieces() > 0 ? 1 : 0;
  line.in_sides += (at.in_side[0] ? 1 : 0) + (at.in_side[1] ? 1 : 0);
  line.used_sets += at.sets;
}

void add_to(LotLine& line, const store::ErasedStock& stock) {
  line.received += stock.received;
  line.used += stock.used;
  line.discarded += stock.discarded;
  line.unaccounted += stock.unaccounted;
  line.left_with_erased += stock.left_behind;
}

void add_to(LotLine& line, const LotInStore& there) {
  line.in_agency += there.pieces;
  if (!line.expires) line.expires = there.expires;
}

int other_usable(const stock::Stock& usable, const LotName& lot, int pieces_per_unit) {
  int pieces = 0;
  for (const stock::Line& line : usable.lines) {
    if (line.item == lot.item && line.lot != lot.lot) pieces += line.quantity / pieces_per_unit * pieces_per_unit;
  }
  return pieces;
}

LotHome home_of(const std::string& household, const HouseholdRecord& record, LotAtHome at, Instant now) {
  LotHome home{household, record.area, record.stop, std::move(at), 0, std::nullopt, ""};
  const int pieces = home.at.lot.item == stock::cells_item ? cells_in_series_at(record, now) : 1;
  home.other_usable = other_usable(usable_of(record, stock_at(record, now), now), home.at.lot, pieces);
  for (const RecallCall& call : record.recall_calls) {
    if (LotName{call.item, call.lot} != home.at.lot) continue;
    home.told_at = call.at;
    home.told_by = call.who;
  }
  return home;
}

}  // namespace

int LotAtHome::pieces() const {
  int sum = 0;
  for (const stock::Line& line : lines) sum += line.quantity;
  return sum;
}

int LotAtHome::pieces_on_their_way() const {
  int sum = 0;
  for (const LotOnItsWay& one : on_its_way) sum += one.pieces;
  return sum;
}

std::vector<LotAtHome> lots_of(const HouseholdRecord& record, const AgencyRecord& books, Instant now) {
  Shelf shelf;
  const auto stock = stock_at(record, now);
  for (const stock::Line& line : stock.lines) {
    if (!line.lot || line.quantity == 0) continue;
    LotAtHome& at = shelf.of(line.item, *line.lot);
    at.lines.push_back(line);
    if (line.expires) at.expires = line.expires;
  }
  for (const auto& [name, turnover] : stock.turnover) {
    if (name.second) shelf.of(name.first, *name.second).turnover = turnover;
  }
  add_sets(shelf, record.life, now);
  add_deliveries(shelf, record.unanswered, books);
  return shelf.all();
}

std::vector<LotLine> all_lots(HouseholdService& households, const std::string& agency) {
  std::map<LotName, LotLine> lines;
  const Instant now = households.clock().now();
  for (const auto& stock : households.erased_stock(agency)) {
    if (stock.lot.empty()) continue;
    LotLine& line = lines[{stock.item, stock.lot}];
    line.lot = {stock.item, stock.lot};
    add_to(line, stock);
  }
  const auto books = agency_books(households, agency);
  households.for_each_of(agency, [&](const std::string& household) {
    for (const LotAtHome& at : lots_of(households.snapshot(household)->record, books, now)) add_to(lines[at.lot], at);
  });
  const auto facts = households.lots_of_agency(agency);
  for (const auto& [lot, recall] : facts->recalled) lines[lot].lot = lot;
  for (const auto& [lot, there] : lots_in_store(books)) {
    lines[lot].lot = lot;
    add_to(lines[lot], there);
  }
  std::vector<LotLine> all;
  all.reserve(lines.size());
  for (auto& [lot, line] : lines) all.push_back(std::move(line));
  std::stable_partition(all.begin(), all.end(),
                        [&](const LotLine& line) { return facts->recall_of(line.lot) != nullptr; });
  return all;
}

std::optional<LotStory> lot_story(HouseholdService& households, const std::string& agency, const LotName& lot) {
  LotStory story;
  story.line.lot = lot;
  bool known = false;
  const Instant now = households.clock().now();
  for (const auto& stock : households.erased_stock(agency)) {
    if (LotName{stock.item, stock.lot} != lot) continue;
    add_to(story.line, stock);
    known = true;
  }
  const auto books = agency_books(households, agency);
  households.for_each_of(agency, [&](const std::string& household) {
    const auto snapshot = households.snapshot(household);
    for (LotAtHome& at : lots_of(snapshot->record, books, now)) {
      if (at.lot != lot) continue;
      add_to(story.line, at);
      story.homes.push_back(home_of(household, snapshot->record, std::move(at), now));
    }
  });
  const auto in_store = lots_in_store(books);
  if (const auto there = in_store.find(lot); there != in_store.end()) {
    add_to(story.line, there->second);
    known = true;
  }
  const auto facts = households.lots_of_agency(agency);
  known = known || !story.homes.empty() || facts->recall_of(lot) != nullptr || !facts->written_as(lot).empty();
  if (!known) return std::nullopt;
  return story;
}

}  // namespace cellarer::service
