// SPDX-License-Identifier: MIT
#include "server/service/agency_lots.hpp"

namespace cellarer::service {

AgencyRecord agency_books(HouseholdService& households, const std::string& agency) {
  return agency_record(*households.journal().of(agency), *households.lots_of_agency(agency));
}

std::map<LotName, LotInStore> lots_in_store(const AgencyRecord& books) {
  std::map<LotName, LotInStore> found;
  for (const StoredLot& lot : books.lots) {
    if (lot.lot.empty()) continue;
    LotInStore& there = found[{lot.item, lot.lot}];
    if (!there.expires) there.expires = lot.expires;
    if (lot.packs <= 0 || lot.arrives) continue;
    const auto* item = books.calendar.item(lot.item);
    there.pieces += static_cast<std::int64_t>(lot.packs) * (item != nullptr ? item->pieces_per_pack : 1);
  }
  for (const auto& [lot, pieces] : books.lost)
    if (!lot.lot.empty() && pieces != 0) found[lot].lost += pieces;
  return found;
}

}  // namespace cellarer::service
