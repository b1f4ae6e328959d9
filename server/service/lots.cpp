// SPDX-License-Identifier: MIT
#include "server/service/lots.hpp"

#include <algorithm>

#include "server/service/agency_lots.hpp"

namespace cellarer::service {

namespace {

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
  line.did_not_come += at.pieces_that_did_not_come();
  line.homes_did_not_come += at.did_not_come.empty() ? 0 : 1;
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
  line.lost += there.lost;
  if (!line.expires) line.expires = there.expires;
}

LotHome home_of(const std::string& household, const HomeLots& lots, LotAtHome at, const LotFacts& facts, Instant now) {
  LotHome home{household, lots.area, lots.stop, std::move(at), 0, std::nullopt, ""};
  home.other_usable = lots.other_usable(home.at.lot, facts, now);
  for (const RecallCall& call : lots.calls) {
    if (LotName{call.item, call.lot} != home.at.lot) continue;
    home.told_at = call.at;
    home.told_by = call.who;
  }
  return home;
}

}  // namespace

std::vector<LotLine> all_lots(HouseholdService& households, const std::string& agency) {
  std::map<LotName, LotLine> lines;
  for (const auto& stock : households.erased_stock(agency)) {
    if (stock.lot.empty()) continue;
    LotLine& line = lines[{stock.item, stock.lot}];
    line.lot = {stock.item, stock.lot};
    add_to(line, stock);
  }
  const auto books = agency_books(households, agency);
  households.for_each_of(agency, [&](const std::string& household) {
    for (const LotAtHome& at : lots_of(*households.home_lots_of(household), books)) add_to(lines[at.lot], at);
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
  const auto facts = households.lots_of_agency(agency);
  households.for_each_of(agency, [&](const std::string& household) {
    const auto home = households.home_lots_of(household);
    for (LotAtHome& at : lots_of(*home, books)) {
      if (at.lot != lot) continue;
      add_to(story.line, at);
      story.homes.push_back(home_of(household, *home, std::move(at), *facts, now));
    }
  });
  const auto in_store = lots_in_store(books);
  if (const auto there = in_store.find(lot); there != in_store.end()) {
    add_to(story.line, there->second);
    known = true;
  }
  known = known || !story.homes.empty() || facts->recall_of(lot) != nullptr || !facts->written_as(lot).empty();
  if (!known) return std::nullopt;
  return story;
}

}  // namespace cellarer::service
