// SPDX-License-Identifier: MIT
#include "server/service/reviewed_home.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "model/duty/paced_hours.hpp"
#include "model/review/finished_sets.hpp"

namespace cellarer::service {

namespace {

/// How well a technician reads these: settings as displayed, hours as noted over some days. Assumptions, those of the
/// trial of simulated faults (tests/bench/faults).
constexpr double settings_read_error = 0.01, hours_noted_error = 0.025;

const duty::Stimulator* unit_at(const life::Household& life, Instant at) {
  const duty::Stimulator* found = nullptr;
  for (const auto& unit : life.units) {
    if (unit.from <= at) found = &unit.stimulator;
  }
  return found;
}

std::string serial_at(const life::Household& life, Instant at) {
  std::string found;
  for (const auto& unit : life.units) {
    if (unit.from <= at) found = unit.serial;
  }
  return found;
}

const duty::Settings* settings_at(const life::Household& life, Side side, Instant at) {
  const duty::Settings* found = nullptr;
  for (const auto& settings : life.settings) {
    if (settings.side == side && settings.from <= at) found = &settings;
  }
  return found;
}

/// ln of what was seen over what the record lets expect; none where either is not known.
std::optional<double> log_ratio_of(const CheckFact& check, const life::Household& life) {
  const auto* recorded = settings_at(life, check.side, check.at);
  if (recorded == nullptr) return std::nullopt;
  double seen = 0, expected = 0;
  if (check.settings) {
    const auto* unit = unit_at(life, check.at);
    if (unit == nullptr) return std::nullopt;
    seen = duty::pacing_load(unit->side(check.side), *check.settings).mean_mA();
    expected = duty::pacing_load(unit->side(check.side), *recorded).mean_mA();
  } else {
    seen = check.hours_per_day.value_or(0);
    expected = hours_per_day(*recorded, life.zone);
  }
  if (!(seen > 0) || !(expected > 0)) return std::nullopt;
  return std::log(seen / expected);
}

void add_checks(ReviewedHome& home, const HouseholdRecord& record, Instant now) {
  for (const auto& fact : record.bench.checks) {
    const auto ratio = log_ratio_of(fact, record.life);
    if (!ratio || fact.at > now) continue;
    review::Check check;
    check.what = fact.settings ? review::Check::What::settings_read : review::Check::What::hours_noted;
    check.household = home.reference;
    check.side = fact.side;
    check.at = fact.at;
    check.unit = serial_at(record.life, fact.at);
    check.log_ratio = *ratio;
    check.standard_error = fact.settings ? settings_read_error : hours_noted_error;
    home.history.checks.push_back(check);
    home.checks.push_back(fact);
  }
}

/// Closed findings of use: what befell those sides until then is dealt with.
void add_settled(ReviewedHome& home) {
  for (const auto& note : home.notes) {
    if (note.state != FindingState::closed || !concerns_use(note.finding) || !note.as_it_was.is_object()) continue;
    const auto from = json::parse_rfc3339(note.as_it_was.value("from", ""));
    if (!from) continue;
    const auto scope = note.as_it_was.value("scope", "both");
    std::vector<Side> sides;
    if (scope != "right") sides.push_back(Side::left);
    if (scope != "left") sides.push_back(Side::right);
    home.history.settled.push_back({sides, *from, note.at});
  }
}

/// In a closed home nothing is worn any more: what was in until then had not worn out.
void add_parts(ReviewedHome& home, std::vector<PartFact> facts, const std::optional<Instant>& closed_since) {
  std::stable_sort(facts.begin(), facts.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  std::map<std::string, std::size_t> in_use;
  for (const auto& fact : facts) {
    const auto name = fact.part + (fact.side ? std::string(", ") + name_of(*fact.side) : "");
    if (const auto before = in_use.find(name); before != in_use.end()) {
      auto& service = home.parts[before->second];
      service.to = fact.at;
      service.worn_out = fact.why == PartFact::Why::worn_out;
    }
    in_use[name] = home.parts.size();
    home.parts.push_back({home.reference, fact.part, fact.at, std::nullopt, false, fact.side});
  }
  if (!closed_since) return;
  for (auto& part : home.parts) {
    if (!part.to) part.to = std::max(part.from, *closed_since);
  }
}

void add_units(ReviewedHome& home, const HouseholdRecord& record, Instant now) {
  for (const auto& unit : record.units) {
    if (unit.from <= now) home.units.push_back({unit.serial, unit.stimulator, unit.from, unit.spare});
  }
  for (const auto& set : home.history.records) {
    const auto stay =
        std::find_if(home.units.begin(), home.units.end(), [&](const UnitStay& one) { return one.serial == set.unit; });
    if (stay != home.units.end()) ++stay->sets;
  }
  for (const auto& change : record.life.cell_changes) {
    if (change.reason == life::ChangeReason::fault && change.at <= now)
      home.faults.push_back({serial_at(record.life, change.at), change.side, change.at, false});
  }
  for (const auto& reading : record.life.readings) {
    if (std::holds_alternative<life::SideStopped>(reading.value) && reading.at <= now)
      home.faults.push_back({serial_at(record.life, reading.at), reading.side, reading.at, true});
  }
}

}  // namespace

double hours_per_day(const duty::Settings& settings, Zone zone) {
  constexpr double week_h = 7 * 24;
  const duty::Interval week{settings.from, hours_after(settings.from, week_h)};
  const auto paced = duty::total(duty::paced_by_settings(settings.paced, zone, week));
  return std::chrono::duration<double, std::ratio<3600>>(paced).count() / 7;
}

bool concerns_use(const std::string& finding_id) { return finding_id.starts_with("use/"); }

bool is_as_of(const ReviewedHome& home, const Snapshot& snapshot) {
  return is_as_of(home, snapshot.last_entry, snapshot.agency, snapshot.profiles, snapshot.lots);
}

bool is_as_of(const ReviewedHome& home, std::int64_t last_entry, const Common& agency, const Profiles& profiles,
              const Lots& lots) {
  const bool same_numbers = home.lots == lots || home.lots->corrected == lots->corrected;
  return home.last_entry == last_entry && home.agency == agency && home.profiles == profiles && same_numbers;
}

ReviewedHome reviewed_home(const Snapshot& snapshot, const std::string& reference, Instant now) {
  const auto& record = snapshot.record;
  ReviewedHome home;
  home.reference = reference;
  home.last_entry = snapshot.last_entry;
  home.agency = snapshot.agency;
  home.profiles = snapshot.profiles;
  home.lots = snapshot.lots;
  home.zone = record.life.zone;
  home.history.household = reference;
  home.notes = record.bench.notes;
  life::LoadTables tables;
  home.history.records = review::finished_sets(record.life, reference, now, tables);
  add_checks(home, record, now);
  add_settled(home);
  add_parts(home, record.bench.parts, record.closed_since);
  add_units(home, record, now);
  return home;
}

}  // namespace cellarer::service
