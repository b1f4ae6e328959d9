// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "model/stock/ledger.hpp"
#include "server/service/agency_record.hpp"
#include "server/service/household_service.hpp"

/// Where a lot is, who has used it, and how it did: the records of an agency's households looked at lot by lot. Nothing
/// is kept; homes are folded where they are not in memory, so all of it belongs on a worker.
namespace cellarer::service {

/// Of a lot, what a round that is loaded or has left carries to a home that has not said what came of it. It is no
/// stock, and no longer in the agency's store either.
struct LotOnItsWay {
  std::string round;
  stock::Date date;
  int pieces = 0;
  std::optional<std::chrono::year_month> expires;
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

  int pieces() const;
  int pieces_on_their_way() const;
  bool in_a_side() const { return in_side[0] || in_side[1]; }
};

/// Every lot with a number that the household has or had, or gets.
std::vector<LotAtHome> lots_of(const HouseholdRecord& record, const AgencyRecord& books, Instant now);

/// One lot over all homes. Always received = used + discarded + unaccounted + in_homes + left_with_erased, in pieces.
struct LotLine {
  LotName lot;
  std::optional<std::chrono::year_month> expires;
  std::int64_t received = 0, used = 0, discarded = 0, unaccounted = 0, in_homes = 0, left_with_erased = 0;
  std::int64_t in_agency =
      0;  ///< in the agency's own store, outside of that balance; nought where its books went wrong
  std::int64_t on_its_way = 0;  ///< to homes, outside of that balance and of the agency's store
  int homes_on_its_way = 0;     ///< that are to get it
  int homes = 0;                ///< that have some of it on the shelf
  int in_sides = 0;             ///< sides that hold it now
  int used_sets = 0;            ///< sets of it that were ever put in
};

/// Recalled lots first, then by item and number; one that no home ever had, but the agency's store or a recall, is
/// there too.
std::vector<LotLine> all_lots(HouseholdService& households, const std::string& agency);

struct LotHome {
  std::string household;  ///< its key
  std::optional<std::string> area, stop;
  LotAtHome at;
  int other_usable = 0;            ///< pieces of that item in whole sets, of other lots
  std::optional<Instant> told_at;  ///< when it was called about the recall
  std::string told_by;
};

struct LotStory {
  LotLine line;
  std::vector<LotHome> homes;  ///< that have it, or had, or get it
};

/// None where neither a home, nor an erased one, nor the agency's store, nor a recall or a correction knows that
/// number.
std::optional<LotStory> lot_story(HouseholdService& households, const std::string& agency, const LotName& lot);

}  // namespace cellarer::service
