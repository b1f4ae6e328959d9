// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "server/service/home_lots.hpp"
#include "server/service/household_service.hpp"

/// Where a lot is, who has used it, and how it did: the records of an agency's households looked at lot by lot. What
/// each home has is kept (home_lots.hpp) until something is recorded there; homes of which it is not are folded, so all
/// of it belongs on a worker.
namespace cellarer::service {

/// One lot over all homes. Always received = used + discarded + unaccounted + in_homes + left_with_erased, in pieces.
struct LotLine {
  LotName lot;
  std::optional<std::chrono::year_month> expires;
  std::int64_t received = 0, used = 0, discarded = 0, unaccounted = 0, in_homes = 0, left_with_erased = 0;
  std::int64_t in_agency =
      0;  ///< in the agency's own store, outside of that balance; nought where its books went wrong
  std::int64_t on_its_way = 0;    ///< to homes, outside of that balance and of the agency's store
  int homes_on_its_way = 0;       ///< that are to get it
  std::int64_t did_not_come = 0;  ///< to homes that were to get it, outside of all of these
  int homes_did_not_come = 0;
  std::int64_t lost = 0;  ///< did not come, and the agency wrote it off
  int homes = 0;          ///< that have some of it on the shelf
  int in_sides = 0;       ///< sides that hold it now
  int used_sets = 0;      ///< sets of it that were ever put in
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
