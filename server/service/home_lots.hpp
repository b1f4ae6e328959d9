// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "model/stock/ledger.hpp"
#include "server/service/agency_record.hpp"
#include "server/service/household_record.hpp"

/// What one home's records say of lots. It is small, and kept (household_service.hpp) when the record is not: where a
/// lot is has to be said of thousands of homes at once.
namespace cellarer::service {

/// Of a lot, what a round that is loaded or has left carries to a home that has not said what came of it. It is no
/// stock, and no longer in the agency's store either.
struct LotOnItsWay {
  std::string round;
  stock::Date date;
  int pieces = 0;
  std::optional<std::chrono::year_month> expires;
};

/// Of a lot, what a round was to bring to a home and did not, and nobody has said where it is: with the carrier
/// perhaps, or at a neighbour's.
struct LotAstray {
  std::string round;
  stock::Date date;
  std::string stop;  ///< as it was planned
  int pieces = 0;
  std::optional<std::chrono::year_month> expires;
  std::optional<Instant> said_at;  ///< when the home said so
};

/// One lot in one home.
struct LotAtHome {
  LotName lot;
  std::vector<stock::Line> lines;                 ///< what is there, by place
  stock::Turnover turnover;                       ///< since the first record
  std::array<std::optional<Instant>, 2> in_side;  ///< since when it is in the left side, in the right
  int sets = 0;                                   ///< sets of cells of it that were ever put in
  std::optional<Instant> last_used;               ///< when the last of them went in
  std::optional<std::chrono::year_month> expires;
  std::vector<LotOnItsWay> on_its_way;  ///< by when it was planned
  std::vector<LotAstray> did_not_come;  ///< the same

  int pieces() const;
  int pieces_on_their_way() const;
  int pieces_that_did_not_come() const;
  bool in_a_side() const { return in_side[0] || in_side[1]; }
};

struct HomeLots {
  std::optional<std::string> area, stop;
  std::vector<LotAtHome> lots;                     ///< with a number, that are or were there; without what rounds bring
  stock::Stock books;                              ///< all that is there, and what became of the rest
  std::vector<DeskDelivery> unanswered, answered;  ///< as in the record
  std::vector<RecallCall> calls;
  int cells_per_set = 2;
  bool moves = false;  ///< something is recorded for a time to come: then it says something else

  /// Pieces of that item in whole sets, of other lots, that are not called back.
  int other_usable(const LotName& lot, const LotFacts& facts, Instant now) const;
};

HomeLots home_lots(const HouseholdRecord& record, Instant now);

/// Whether all numbers of lots in it are read with `now` as they were read with `before`.
bool reads_alike(const HomeLots& home, const LotFacts& before, const LotFacts& now);

/// Of a delivery, what did not come and is on no shelf: with its round it left the agency's store.
std::vector<MissingLot> astray_of(const DeskDelivery& delivery, const AgencyRecord& books);

/// Every lot with a number that the home has or had, or gets, or was to get.
std::vector<LotAtHome> lots_of(const HomeLots& home, const AgencyRecord& books);

}  // namespace cellarer::service
