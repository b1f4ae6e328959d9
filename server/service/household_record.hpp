// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "model/life/forecast.hpp"
#include "model/stock/records.hpp"
#include "server/service/bench_facts.hpp"
#include "server/service/desk_record.hpp"
#include "server/service/kept_lessons.hpp"
#include "server/service/reminder_settings.hpp"

/// Everything the service knows of one household, folded from its entries (fold.hpp) or read from an
/// export (server/api/household_document.hpp). A value: the forecast is a function of it and of a moment.
namespace cellarer::service {

/// A unit as it was recorded. A spare is kept in the house; it is in use only from a later record on that
/// does not call it a spare. Units in use are in `HouseholdRecord::life.units`, with their profile.
struct UnitRecord {
  std::string serial;
  std::string stimulator;  ///< id of the profile
  Instant from;
  bool spare = false;
};

/// How one item is ordered and used up. Cells need no interval: their use follows from the forecast.
struct ItemTerms {
  std::string item;                       ///< "cells", "antennas", ...
  int pack_size = 1;                      ///< pieces in a pack, at least 1
  double lead_days = 7;                   ///< from ordering to having it, 0 to 365
  std::optional<double> every_days;       ///< one piece is used up in so many days
  std::optional<double> per_cell_change;  ///< pieces used at each change of cells
};

/// A stay away from home, perhaps in another zone, perhaps with other changing times.
struct Stay {
  Instant from, to;
  std::optional<std::string> zone;
  std::vector<std::chrono::minutes> changing_times = {};  ///< none: those of the household
};

/// More pacing than the settings say, on one side or both (duty::PacedMore).
struct PacedMore {
  std::vector<Side> sides;
  Instant from;
  std::optional<Instant> to;
  std::optional<double> hours_per_day, amplitude;
  std::optional<std::string> why;
  std::optional<Instant> still_at;  ///< when somebody last said that it goes on
  std::int64_t entry = 0;           ///< its number; 0 where it comes from an export
};

/// A visit that wants fresh cells.
struct Visit {
  std::vector<Side> sides;
  Instant at;
  std::optional<std::string> note;
};

/// A time in hospital, and what was said of it when coming home.
struct Hospital {
  life::HospitalStay stay;
  std::optional<std::string> note;
  std::int64_t entry = 0;  ///< of the admission; 0 where it comes from an export or nobody recorded one
};

/// An entry that may be open or still to come, as it was recorded: for showing, undoing and ending it.
struct Plan {
  std::int64_t entry = 0;
  std::string kind;
  nlohmann::json body;  ///< with its end in `to`, where it has ended since
};

/// A lot that its agency calls back from a moment on.
struct RecalledLot {
  std::string item, lot;
  Instant since;
};

/// The agency has called the home about a lot that is called back.
struct RecallCall {
  std::string item, lot;
  Instant at;
  std::string who;
};

/// A change of which the household is asked whether it is the same as the one before it.
struct AskedChange {
  Side side = Side::left;
  Instant at;
  std::int64_t entry = 0;  ///< number of the second change's entry; 0 where it comes from an export
};

/// What is known of the household with the profiles that were in force until some were approved, for the cells that
/// were in then.
struct BeforeApproval {
  Instant approved;
  life::Household life;
};

/// `life.cell_changes` hold `perhaps_the_same` as DEVELOPERS.md says (records): the second change of one
/// side within 12 h, nothing between, not yet answered. `life.cell_profiles` holds every profile that the
/// changes name and that is known; a name that is not in it is of wrong or unknown cells. Stays, more pacing, visits
/// and hospital stand here as recorded and in `life` as the model reads them (fold.hpp: complete).
/// Entries dated in the future are in the record: who computes leaves out what has not yet come.
struct HouseholdRecord {
  std::string reference;                   ///< the agency's, never a name
  std::optional<std::string> area;         ///< as it was last said at the desk; none: no round serves it
  std::optional<std::string> stop;         ///< the door, where others share it; none: a stop of its own
  std::string zone_name;                   ///< IANA, "Europe/Oslo"; the zone itself is `life.zone`
  life::Household life;                    ///< sides: changing times, units in use, settings, changes, readings
  std::vector<UnitRecord> units;           ///< all, spares too, by `from`
  std::vector<stock::Event> stock;         ///< by `at`: counts, deliveries, uses, discards, and what cell changes used
  std::vector<RecalledLot> recalled_lots;  ///< of the lots that this household has, or had
  std::vector<RecallCall> recall_calls;    ///< in the order in which they were recorded
  std::vector<DeskDelivery> unanswered;    ///< planned, and nobody has said that they came or did not
  std::vector<DeskDelivery> answered;      ///< of which the home said that not all of it came
  std::vector<ItemTerms> items;            ///< "cells" is always among them
  std::vector<Stay> stays;
  std::vector<PacedMore> paced_more;
  std::vector<Visit> visits;
  std::vector<Hospital> hospital;
  std::vector<Plan> plans;                      ///< in the order in which they were recorded
  std::vector<AskedChange> asked_changes;       ///< those of `life.cell_changes` that are perhaps the same
  BenchRecord bench;                            ///< the technician's
  std::vector<BeforeApproval> before_approval;  ///< of profiles newer than the cells (held_back.hpp)
  ReminderSettings reminders;
  std::optional<Instant> closed_since;       ///< by the agency: it is reminded of nothing, until it is open again
  nlohmann::json inline_profiles = nullptr;  ///< those given inside an export (inline_profiles.hpp)
  std::shared_ptr<KeptLessons> lessons;      ///< of the home, from one forecast to the next; none: all learned anew
};

/// Cells that are put into a side together at that time: of the unit in use, 2 where none is known.
int cells_in_series_at(const HouseholdRecord& record, Instant at);

}  // namespace cellarer::service
