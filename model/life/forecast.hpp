// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/cell/profile.hpp"
#include "model/duty/timeline.hpp"
#include "model/life/agency.hpp"
#include "model/life/plans.hpp"
#include "model/life/records.hpp"

/// The forecast of a household's two sides: from records to a distribution, and from that to advice.
/// Pure and deterministic: the same input gives the same answer to the last bit.
namespace cellarer::life {

/// One unit in use by the household from a moment on (a spare that is put into service is a new entry).
struct UnitInUse {
  std::string serial;
  duty::Stimulator stimulator;
  Instant from;
  bool operator==(const UnitInUse&) const = default;
};

/// When the agency's policy accepts which risk.
struct Policy {
  double risk_limit = 1e-5;         ///< of running out before the next changing time, times being kept
  double miss_probability = 0.05;   ///< of missing one changing time, independently
  double missed_risk_limit = 4e-4;  ///< of missing the next time and running out before the one after
};

/// All that is known of a household's sides. The caller has sorted nothing and left nothing out.
struct Household {
  Zone zone = nullptr;
  std::vector<std::chrono::minutes> changing_times;  ///< of the day, by the wall clock; at least one
  std::vector<UnitInUse> units;
  std::vector<duty::Settings> settings;  ///< both sides
  std::vector<duty::PacedInstead> paced_instead;
  std::vector<duty::PacedMore> paced_more;
  std::vector<duty::SwitchedOff> switched_off;
  std::vector<Visit> visits;
  std::vector<Stay> stays;
  std::vector<HospitalStay> hospital;
  std::vector<CellChange> cell_changes;
  std::vector<Reading> readings;
  std::map<std::string, cell::Profile> cell_profiles;  ///< by id, every one the records name that is known
  std::optional<cell::Profile> unknown_cells;          ///< stands in for cells of unknown type (the LR6 family)
  Policy policy;
  AgencyKnowledge agency;  ///< what its agency's households have taught
};

enum class Phrase { expected_to_last_tonight, change_before_tonight, change_now, no_forecast };

template <class T>
struct Quantiles {
  T p05{}, p50{}, p95{};
};

/// How a window of the nights strip is drawn.
enum class Window { expected, doubtful, not_expected };

struct Night {
  Instant from, to;
  double risk = 0;         ///< that cut-off is reached within this night, given the records
  double risk_by_end = 0;  ///< that it is reached by the night's end
  Window window = Window::expected;
  bool tonight = false;
};

/// A thing the page asks the household, or tells it, about one side. Codes are stable; texts are the page's.
enum class Question {
  were_cells_changed,    ///< a reading above the 95 % range: waits for a second one or a change
  was_it_changed,        ///< `change by` passed and no change recorded
  note_the_gauge,        ///< nothing recorded for 7 nights or half a set's life
  same_change_twice,     ///< two changes within 12 h and nothing between
  which_cells,           ///< cells of unknown type or age are in this side
  wrong_cells,           ///< rechargeable, or of a type that has no forecast
  reading_is_low,        ///< a reading below the 95 % range: acted on
  still_paced_more,      ///< paced more for three days, or three days after it was last said to go on
  which_settings,        ///< back from hospital, and the settings since then are not recorded
  which_unit,            ///< the same of the unit
  a_reading_would_help,  ///< it would narrow `change by`; never urgent, not within three days of the last reading
};

/// One point of the range chart: the gauge as expected at a time, in percent.
/// Whether the gauge's course is asked for too: a tenth of a forecast, and pages alone show it.
enum class Chart { wanted, not_wanted };

struct GaugePoint {
  Instant at;
  double p05, p50, p95;
};

struct SideForecast {
  Phrase phrase = Phrase::no_forecast;
  std::vector<std::string> because;  ///< plain sentences, terms of the computation
  std::vector<Question> questions;
  std::optional<Instant> warned_at;  ///< the unit's warning since the last change: nothing else is shown
  std::optional<Instant> stopped_at;
  std::optional<Quantiles<double>> remaining_h;  ///< clock hours to cut-off
  std::optional<Quantiles<Instant>> warning_at, cutoff_at;
  std::optional<Instant> change_by, no_later_than;
  std::optional<Instant> change_for_visit;  ///< `change_by` is that of this visit, which wants fresh cells
  std::vector<Night> nights;
  std::optional<Instant> last_recorded_at;  ///< newest record of this side, by when it happened
  std::optional<Instant> cells_since;
  std::optional<CellSet> cells;
  std::vector<GaugePoint> gauge;          ///< expected gauge from the change to the end
  std::optional<double> set_life_h;       ///< median life of a fresh set at the coming settings [h], for stock
  std::optional<double> set_life_log_sd;  ///< its spread
  std::optional<double> shortest_life_h;  ///< the shortest median life of those to come in 90 days, by plans [h]
  std::optional<double> planned_life_h;   ///< until a fresh set without readings is changed by the policy [h]
  int sets_seen = 0;                      ///< ended sets of this side that taught something
};

struct HouseholdForecast {
  Instant as_of;
  std::array<SideForecast, 2> sides;  ///< left, right
  Instant next_changing_time;
  const SideForecast& side(Side which) const { return sides[which == Side::left ? 0 : 1]; }
};

/// Entries that happened after `as_of` are left out; those recorded after `as_of` too, so that a past
/// forecast can be made again as it was. Errors: none; what cannot be forecast has phrase `no_forecast`
/// and says why in `because`.
HouseholdForecast forecast(const Household& household, Instant as_of);

}  // namespace cellarer::life
