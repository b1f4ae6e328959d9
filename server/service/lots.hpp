// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "model/stock/ledger.hpp"
#include "server/service/household_service.hpp"

/// Where a lot is, who has used it, and how it did: the records of an agency's households looked at lot by lot. Nothing
/// is kept; homes are folded where they are not in memory, so all of it belongs on a worker.
namespace cellarer::service {

/// One lot in one home.
struct LotAtHome {
  LotName lot;
  std::vector<stock::Line> lines;                 ///< what is there, by place
  stock::Turnover turnover;                       ///< since the first record
  std::array<std::optional<Instant>, 2> in_side;  ///< since when it is in the left side, in the right
  int sets = 0;                                   ///< sets of cells of it that were ever put in
  std::optional<Instant> last_used;               ///< when the last of them went in
  std::optional<std::chrono::year_month> expires;

  int pieces() const;
  bool in_a_side() const { return in_side[0] || in_side[1]; }
};

/// Every lot with a number that the household has or had.
std::vector<LotAtHome> lots_of(const HouseholdRecord& record, Instant now);

/// One lot over all homes. Always received = used + discarded + unaccounted + in_homes + left_with_erased, in pieces.
struct LotLine {
  LotName lot;
  std::optional<std::chrono::year_month> expires;
  std::int64_t received = 0, used = 0, discarded = 0, unaccounted = 0, in_homes = 0, left_with_erased = 0;
  std::int64_t in_agency =
      0;              ///< in the agency's own store, outside of that balance; nought where its books went wrong
  int homes = 0;      ///< that have some of it on the shelf
  int in_sides = 0;   ///< sides that hold it now
  int used_sets = 0;  ///< sets of it that were ever put in
};

/// Recalled lots first, then by item and number; one that no home ever had, but the agency's store or a recall, is
/// there too.
std::vector<LotLine> all_lots(HouseholdService& households, const std::string& agency);

struct LotHome {
  std::string household;  ///< its key
  std::optional<std::string> area;
  LotAtHome at;
  int other_usable = 0;            ///< pieces of that item in whole sets, of other lots
  std::optional<Instant> told_at;  ///< when it was called about the recall
  std::string told_by;
};

struct LotStory {
  LotLine line;
  std::vector<LotHome> homes;  ///< that have it, or had
};

/// None where neither a home, nor an erased one, nor the agency's store, nor a recall or a correction knows that
/// number.
std::optional<LotStory> lot_story(HouseholdService& households, const std::string& agency, const LotName& lot);

/// How long sets of a lot of cells lasted against what was expected of them, each against its own home and side
/// (model/review/agency_review.hpp).
struct LotDid {
  int sets = 0, homes = 0;                          ///< that say something of it
  std::optional<std::array<double, 3>> life_ratio;  ///< observed over expected life: 5 %, half, 95 %; below 1: shorter
};

LotDid how_it_did(HouseholdService& households, const std::string& agency, const LotStory& story);

}  // namespace cellarer::service
