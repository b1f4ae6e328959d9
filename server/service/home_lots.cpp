// SPDX-License-Identifier: MIT
#include "server/service/home_lots.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "model/life/stint.hpp"
#include "server/service/household_forecast.hpp"

namespace cellarer::service {

namespace {

class Shelf {
 public:
  explicit Shelf(std::vector<LotAtHome> lots = {}) {
    for (LotAtHome& at : lots) lots_[at.lot] = std::move(at);
  }
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
void add_on_its_way(Shelf& shelf, const DeskDelivery& delivery, const AgencyRecord& books) {
  if (!is_out(books.state_of(delivery.round))) return;
  for (const DeliveryLine& line : delivery.lines) {
    for (const DeliveredLot& lot : line.lots) {
      if (lot.lot.empty() || lot.packs == 0) continue;
      shelf.of(line.item, lot.lot)
          .on_its_way.push_back({delivery.round, delivery.date, lot.packs * line.pieces_per_pack, lot.expires});
    }
  }
}

void add_astray(Shelf& shelf, const DeskDelivery& delivery, const AgencyRecord& books) {
  for (const MissingLot& lot : astray_of(delivery, books)) {
    if (lot.lot.empty()) continue;
    shelf.of(lot.item, lot.lot)
        .did_not_come.push_back(
            {delivery.round, delivery.date, delivery.stop, lot.pieces, lot.expires, delivery.answered_at});
  }
}

/// What is stated of the records at a moment will be otherwise at a later one, without another record.
bool is_to_come(const HouseholdRecord& record, Instant now) {
  const auto later = [&](const auto& one) { return one.at > now; };
  return std::any_of(record.stock.begin(), record.stock.end(), later) ||
         std::any_of(record.life.cell_changes.begin(), record.life.cell_changes.end(), later) ||
         std::any_of(record.units.begin(), record.units.end(), [&](const auto& unit) { return unit.from > now; });
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

int LotAtHome::pieces_that_did_not_come() const {
  int sum = 0;
  for (const LotAstray& one : did_not_come) sum += one.pieces;
  return sum;
}

HomeLots home_lots(const HouseholdRecord& record, Instant now) {
  HomeLots home;
  Shelf shelf;
  auto stock = stock_at(record, now);
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
  home.area = record.area;
  home.stop = record.stop;
  home.lots = shelf.all();
  home.books = std::move(stock);
  home.unanswered = record.unanswered;
  home.answered = record.answered;
  home.calls = record.recall_calls;
  home.cells_per_set = cells_in_series_at(record, now);
  home.moves = is_to_come(record, now);
  return home;
}

int HomeLots::other_usable(const LotName& lot, const LotFacts& facts, Instant now) const {
  const int unit = lot.item == stock::cells_item ? std::max(cells_per_set, 1) : 1;
  int pieces = 0;
  for (const stock::Line& line : books.lines) {
    if (line.item != lot.item || line.lot == lot.lot) continue;
    const LotRecall* recall = line.lot ? facts.recall_of({line.item, *line.lot}) : nullptr;
    if (recall == nullptr || recall->at > now) pieces += line.quantity / unit * unit;
  }
  return pieces;
}

bool reads_alike(const HomeLots& home, const LotFacts& before, const LotFacts& now) {
  if (before.corrected == now.corrected) return true;
  std::set<LotName> otherwise;  // what was written, and what it was and is read as
  for (const auto* facts : {&before, &now}) {
    for (const auto& [written, correction] : facts->corrected) {
      const auto was = before.right(written), is = now.right(written);
      if (was == is) continue;
      for (const std::string& lot : {written.lot, was, is}) otherwise.insert({written.item, lot});
    }
  }
  const auto has = [&](const std::string& item, const std::string& lot) { return otherwise.count({item, lot}) > 0; };
  if (otherwise.empty()) return true;
  for (const LotAtHome& at : home.lots)
    if (has(at.lot.item, at.lot.lot)) return false;
  for (const RecallCall& call : home.calls)
    if (has(call.item, call.lot)) return false;
  for (const auto* deliveries : {&home.unanswered, &home.answered}) {
    for (const DeskDelivery& delivery : *deliveries) {
      for (const CameLine& came : delivery.came)
        if (has(came.item, came.lot)) return false;
      for (const DeliveryLine& line : delivery.lines)
        for (const DeliveredLot& lot : line.lots)
          if (has(line.item, lot.lot)) return false;
    }
  }
  return true;
}

std::vector<MissingLot> astray_of(const DeskDelivery& delivery, const AgencyRecord& books) {
  const RoundOnBook* round = books.round(delivery.round);
  if (round == nullptr) return {};
  // With a round that is cancelled all comes back but the stops that the homes answered "received", the whole of them.
  const auto& steps = round->history;
  const bool kept_out = round->state == RoundState::cancelled && delivery.answer == Answer::received &&
                        steps.size() > 1 && is_out(steps[steps.size() - 2].state);
  return is_out(round->state) || kept_out ? missing_of(delivery) : std::vector<MissingLot>{};
}

std::vector<LotAtHome> lots_of(const HomeLots& home, const AgencyRecord& books) {
  Shelf shelf(home.lots);
  for (const DeskDelivery& delivery : home.unanswered) add_on_its_way(shelf, delivery, books);
  for (const DeskDelivery& delivery : home.answered) add_astray(shelf, delivery, books);
  return shelf.all();
}

}  // namespace cellarer::service
