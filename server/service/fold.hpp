// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <vector>

#include "server/service/facts.hpp"
#include "server/service/household_record.hpp"
#include "server/service/libraries.hpp"
#include "server/service/lot_facts.hpp"
#include "server/store/store.hpp"

/// Entries in, the household's record out.
///
/// Entries that are voided do not count; nor do changes that somebody answered to be the same as the one
/// before. What is left takes its place in time, whenever it was recorded.
///
/// - A change of cells is "perhaps the same" as the last certain change of that side where it follows it
///   within 12 h, no warning or stop of that side was recorded between, and nobody has answered "different".
///   What was given as the reason of either does not matter.
/// - Cells that were found in a side on coming home from hospital are no change: plan_fold.hpp.
/// - A change uses a set of cells from the stock, unless it says otherwise or puts back cells that were in
///   before. One that is perhaps the same uses stock too: the lower count holds until someone answers.
namespace cellarer::service {

/// The kinds of entries, by their names in the store and on the wire.
namespace kind {
inline constexpr const char* unit = "unit";
inline constexpr const char* settings = "settings";
inline constexpr const char* cell_change = "cell_change";
inline constexpr const char* reading = "reading";
inline constexpr const char* paced = "paced";
inline constexpr const char* switched_off = "switched_off";
inline constexpr const char* stock_count = "stock_count";
inline constexpr const char* delivery = "delivery";
inline constexpr const char* discard = "discard";
inline constexpr const char* use = "use";  ///< beside what cell changes use
inline constexpr const char* stay = "stay";
inline constexpr const char* paced_more = "paced_more";
inline constexpr const char* visit = "visit";
inline constexpr const char* hospital = "hospital";
inline constexpr const char* back_home = "back_home";
inline constexpr const char* end = "end";
inline constexpr const char* check = "check";
inline constexpr const char* part = "part";
inline constexpr const char* finding_note = "finding_note";
inline constexpr const char* item_terms = "item_terms";    ///< of one item, in place of those before
inline constexpr const char* recall_call = "recall_call";  ///< {"item"?, "lot", "at"?, "note"?}
inline constexpr const char* reminders = "reminders";
inline constexpr const char* undo = "void";
inline constexpr const char* answer = "answer";
}  // namespace kind

struct Folded {
  HouseholdRecord record;
  std::map<std::int64_t, std::int64_t> voided_by;  ///< entry to what takes it back: a void, or an answer "same"
};

/// What the agency says of lots holds for all that was ever recorded: a corrected number is read as the right one, and
/// a recalled lot that this household has, or had, is in `recalled_lots`.
Folded fold(const store::StoredHousehold& household, const std::vector<store::StoredEntry>& entries,
            const Libraries& libraries, const LotFacts& lots = {});

/// Fills in what follows from the rest, for a record folded from entries or read from an export: order in
/// time, units in use with their profiles, plans as the model reads them, profiles of cells, terms of "cells".
void complete(HouseholdRecord& record, const Libraries& libraries);

/// A change with where it came from.
struct NumberedChange {
  CellChangeFact fact;
  std::int64_t entry = 0;
  bool known_different = false;  ///< someone answered so
  bool found_in_place = false;   ///< nobody changed anything: neither the same as another nor another as it
};

/// Puts changes into the record, marks those that are perhaps the same, and books what they used.
/// Needs the record's units and readings.
void add_changes(HouseholdRecord& record, std::vector<NumberedChange> changes);

}  // namespace cellarer::service
