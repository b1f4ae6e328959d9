// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "server/service/lot_facts.hpp"
#include "server/service/round_calendar.hpp"
#include "server/store/store.hpp"

/// What an agency's own entries say (desk_kinds.hpp): its calendar, its rounds, what it has in store. No household is
/// named in it.
namespace cellarer::service {

/// A round's way: open (in the calendar, nobody's stop is confirmed), planned, loaded, left, done; or cancelled before
/// it left: then nothing is planned for it any more, as nobody drives it. One that was marked as left by mistake is
/// loaded again.
enum class RoundState { open, planned, loaded, left, done, cancelled };
const char* name_of(RoundState state);
/// Of the words that a planner may say: "loaded", "left", "done", "cancelled".
RoundState read_round_state(const json::Field& state);
bool may_follow(RoundState before, RoundState after);
/// Its packs are no longer in the agency's store.
bool is_out(RoundState state);

/// Packs of one lot on a round, all stops together.
struct LoadedLot {
  std::string item, lot;
  int packs = 0;
  std::optional<std::chrono::year_month> expires;
  bool recalled = false;  ///< by now, whenever the round was planned
};

struct RoundStep {
  RoundState state = RoundState::open;
  Instant at;
  std::int64_t number = 0;  ///< of the entry
};

/// A round of which something was recorded.
struct RoundOnBook {
  rounds::Round round;
  RoundState state = RoundState::open;
  std::int64_t number = 0;  ///< of the newest entry about it
  int stops = 0;
  std::vector<LoadedLot> totals;   ///< by item, lot
  std::vector<RoundStep> history;  ///< oldest first

  std::optional<Instant> since(RoundState which) const;  ///< when it last came to that state
};

/// What the agency has of one lot, in packs, or has on order of it: two rows where it has both. Below nought: the books
/// went wrong, please count.
struct StoredLot {
  std::string item, lot;
  int packs = 0;
  std::optional<std::chrono::year_month> expires;
  std::optional<rounds::Date> arrives;  ///< on order: there from that date on
  bool recalled = false;
};

struct AgencyRecord {
  std::int64_t number = 0;  ///< of its newest entry
  RoundCalendar calendar;
  std::map<std::string, RoundOnBook> rounds;  ///< by name
  std::vector<StoredLot> lots;                ///< by item, then what expires first
  bool keeps_stock = false;                   ///< something of it was ever recorded; otherwise plans do not look at it
  std::map<LotName, std::int64_t> lost;       ///< pieces that came to no home and are written off

  const RoundOnBook* round(const std::string& name) const;
  RoundState state_of(const std::string& round) const;
  std::int64_t number_of(const std::string& round) const;  ///< of the newest entry about it; 0: none
};

/// - `agency_stock`: "received" adds to what is there and takes from what is on order, "discarded" takes away.
/// "counted"
///   sets what is there, and ends an order that was to have come by then. "ordered" sets what is on order of that lot,
///   "cancelled" takes from it. Of packs that came to no home "came_back" adds to what is there, "lost" to what is
///   written off, and either with "undone" takes that back.
/// - A round that is loaded takes its packs; one that is cancelled after that brings them back, all but what homes had
///   received of it by then, which are the totals of that entry.
/// - A corrected number is read as the right one wherever it was written; a recalled lot is marked.
AgencyRecord agency_record(const std::vector<store::StoredAgencyEntry>& entries, const LotFacts& lots = {});
/// Takes up those from `first` on, where the ones before are in it already, read with the same corrections.
void take_up(AgencyRecord& record, const std::vector<store::StoredAgencyEntry>& entries, std::size_t first,
             const LotFacts& lots = {});

/// The body of a round's entry.
nlohmann::json round_entry(const rounds::Round& round, RoundState state, int stops,
                           const std::vector<LoadedLot>& totals);

/// What was received, counted, thrown away, ordered, or ordered and cancelled, checked: {"what", "item", "lot",
/// "packs", "expires", "arrives"}.
void check_agency_stock(const json::Field& body);

}  // namespace cellarer::service
