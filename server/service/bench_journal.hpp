// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "server/service/bench_facts.hpp"
#include "server/store/store.hpp"

/// What the bench records for the agency as a whole: units in the workshop, what was measured of them, what became of
/// findings about lots and units. Entries of the agency's journal (service/agency_journal.hpp), which name no
/// household.
namespace cellarer::service {

namespace agency_kind {
inline constexpr const char* unit_event = "unit_event";      ///< subject: the serial
inline constexpr const char* finding_note = "finding_note";  ///< subject: the finding's id
}  // namespace agency_kind

struct UnitEvent {
  enum class What { workshop, fault, repaired, withdrawn, taken_back };
  std::int64_t number = 0;
  std::string serial;
  What what = What::workshop;
  Instant at;
  std::string note;        ///< empty: none
  std::string account;     ///< who recorded it
  std::int64_t voids = 0;  ///< of `taken_back`: the event that is taken back
};

/// Something of a unit was measured on the bench.
struct Measured {
  std::int64_t number = 0;         ///< of the proposal
  std::string serial, stimulator;  ///< its model's profile
  Instant at;
  std::string account;
};

/// One current of a unit's side.
struct BenchValue : Measured {
  Side side = Side::left;
  double amplitude = 1, current_mA = 0;
};

/// What its gauge showed at a voltage of the set.
struct GaugeValue : Measured {
  double set_V = 0, percent = 0;
};

struct BenchJournal {
  std::vector<UnitEvent> unit_events;  ///< by when they happened; none that was taken back
  std::vector<BenchValue> values;      ///< by when they were measured
  std::vector<GaugeValue> gauges;      ///< the same
  std::vector<FindingNote> notes;      ///< in the order of recording
};

/// Whether anything of this unit was measured, its gauge alone too.
bool was_measured(const BenchJournal& journal, const std::string& serial);

UnitEvent read_unit_event(const json::Field& body);

BenchJournal read_bench_journal(const std::vector<store::StoredAgencyEntry>& entries);
/// Number of the newest entry that `read_bench_journal` takes in, 0 for none.
std::int64_t newest_of_bench(const std::vector<store::StoredAgencyEntry>& entries);

}  // namespace cellarer::service
