// SPDX-License-Identifier: MIT
// What a home answered did not come: whether the packs came back to the agency's shelf, or are lost. The agency's books
// hear of it in the same act, without the home's name.
#include "server/household_key.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/home_lots.hpp"
#include "server/service/planner_desk.hpp"

namespace cellarer::service {

namespace {

nlohmann::json of_lot(const MissingLot& lot, const char* what, bool undone) {
  nlohmann::json body{{"what", what}, {"item", lot.item}, {"lot", lot.lot}};
  if (undone) body["undone"] = true;
  if (lot.expires && !undone) body["expires"] = json::month_text(*lot.expires);
  return body;
}

/// The store has packs: pieces of one that is not whole any longer are written off.
std::vector<nlohmann::json> booked_as(const MissingLot& lot, Whereabouts whereabouts, bool undone) {
  std::vector<nlohmann::json> bodies;
  int pieces = lot.pieces;
  if (whereabouts == Whereabouts::came_back && lot.pieces >= lot.pieces_per_pack) {
    bodies.push_back(of_lot(lot, "came_back", undone));
    bodies.back()["packs"] = lot.pieces / lot.pieces_per_pack;
    pieces = lot.pieces % lot.pieces_per_pack;
  }
  if (pieces > 0) {
    bodies.push_back(of_lot(lot, "lost", undone));
    bodies.back()["pieces"] = pieces;
  }
  return bodies;
}

/// Whatever was said of where it is.
std::vector<MissingLot> all_astray(DeskDelivery delivery, const AgencyRecord& books) {
  delivery.settled.clear();
  return astray_of(delivery, books);
}

}  // namespace

void PlannerDesk::book_settled(const Doing& doing, const std::vector<MissingLot>& lots, Whereabouts whereabouts,
                               bool undone, store::Batch& batch) const {
  for (const MissingLot& lot : lots) {
    for (const auto& body : booked_as(lot, whereabouts, undone)) {
      batch.agency_entries.push_back(
          {doing.agency, desk::agency_stock, lot.item, households_.clock().now(), body.dump(),
           "settled/" + doing.key + "/" + std::to_string(batch.agency_entries.size()), doing.account});
    }
  }
}

/// Whatever was said before is taken back.
void PlannerDesk::add_settlement(const Doing& doing, const std::string& key, const DeskDelivery& delivery,
                                 Whereabouts whereabouts, std::vector<MissingLot> lots, store::Batch& batch) const {
  if (delivery.whereabouts != Whereabouts::not_known)
    book_settled(doing, delivery.settled, delivery.whereabouts, true, batch);
  if (whereabouts == Whereabouts::not_known) lots.clear();
  book_settled(doing, lots, whereabouts, false, batch);
  nlohmann::json body{{"round", delivery.round}, {"packs", name_of(whereabouts)}, {"lots", nlohmann::json::array()}};
  for (const MissingLot& lot : lots) body["lots"].push_back(missing_lot_document(lot));
  batch.entries.push_back(entry_of(doing, key, desk::delivery_settled, body, batch.entries.size()));
  batch.entries.back().key.insert(0, "settled/");  // beside an answer, or its undo, under the same key
}

void PlannerDesk::settle(const Doing& doing, const std::string& key, const std::string& round,
                         Whereabouts whereabouts) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  const auto desk = desk_of(key);
  const DeskDelivery* delivery = desk.delivery_on(round);
  if (delivery == nullptr) throw nothing_planned_on(round);
  const auto books = agency.board.frame().agency;
  const bool more = !astray_of(*delivery, books).empty();
  if (delivery->whereabouts == whereabouts && (whereabouts == Whereabouts::not_known || !more)) return;  // it is so
  auto lots = all_astray(*delivery, books);
  if (lots.empty()) {
    throw Problem(ProblemCode::out_of_range,
                  "Nobody has said that something of " + round + " did not come, or it is in the store again.",
                  {{"/round", "out-of-range", "name a round of which something did not come to this household"}});
  }
  store::Batch batch;
  add_settlement(doing, key, *delivery, whereabouts, std::move(lots), batch);
  households_.journal().write_together(batch);
  households_.changes().tell(key);
}

void PlannerDesk::unsettle(const Doing& doing, const std::string& key, std::int64_t entry) {
  const auto answer = store_.entry(key, entry);
  if (!answer || answer->kind != desk::delivery_answer || answer->voided_by) return;
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  const auto desk = desk_of(key);
  const DeskDelivery* delivery = desk.delivery_on(json::parse(answer->body).value("round", ""));
  if (delivery == nullptr || delivery->whereabouts == Whereabouts::not_known) return;
  if (all_astray(*delivery, agency.board.frame().agency).empty()) return;  // its round was cancelled: it stays there
  store::Batch batch;
  add_settlement(doing, key, *delivery, Whereabouts::not_known, {}, batch);
  households_.journal().write_together(batch);
  households_.changes().tell(key);
}

void PlannerDesk::write_off(const Doing& doing, const std::string& key) {
  for (const DeskDelivery& delivery : desk_of(key).deliveries) {
    if (!astray_of(delivery, of(doing.agency)->board.frame().agency).empty())
      settle({doing.agency, doing.account, doing.who, doing.key + "/" + delivery.round}, key, delivery.round,
             Whereabouts::lost);
  }
}

}  // namespace cellarer::service
