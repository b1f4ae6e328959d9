// SPDX-License-Identifier: MIT
// Facts about the sides: settings, cell changes, readings, and spans of time.
#include <cstdio>

#include "model/duty/growth.hpp"
#include "server/service/facts.hpp"

namespace cellarer::service {

using json::Field;

namespace {

constexpr std::initializer_list<const char*> sides{"left", "right"};
constexpr std::initializer_list<const char*> reasons{"planned", "warning", "ran_out", "fault", "unknown"};
constexpr std::initializer_list<const char*> conditions{"pacing", "idle", "just_on", "off"};
constexpr std::initializer_list<const char*> ages{"fresh", "part_used", "unknown"};
constexpr std::initializer_list<const char*> weekdays{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

std::string short_number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  return text;
}

duty::PacedSpan read_span(const Field& span) {
  duty::PacedSpan read;
  const auto days = span["days"].elements(7);
  if (days.empty()) span["days"].refuse("out-of-range", "names no day: give at least one of mon to sun");
  for (const Field& day : days) read.weekday[day.word(weekdays)] = true;
  read.from = span["from"].time_of_day();
  read.to = span["to"].time_of_day();
  if (read.from == std::chrono::hours(24)) span["from"].refuse("out-of-range", "a span begins from 00:00 to 23:59");
  if (read.from == read.to) {
    span["to"].refuse("out-of-range", "is the same as from: for the whole day give 00:00 to 24:00");
  }
  return read;
}

/// How the spans grow; only what they can grow to.
duty::Growth read_growth(const Field& growth, const Field& body, const duty::Settings& settings) {
  if (settings.paced.empty()) {
    throw json::Refused("missing", body.place() + "/paced", "is required with growth: give the spans that grow");
  }
  duty::Growth read;
  read.since = settings.from;
  read.a_week = std::chrono::minutes(growth["minutes_per_week"].integer(1, 24 * 60));
  const double hours = growth["up_to_hours"].number(0.01, 24);
  read.up_to_per_day = std::chrono::round<std::chrono::minutes>(std::chrono::duration<double, std::ratio<3600>>(hours));
  for (std::size_t weekday = 0; weekday < 7; ++weekday) {
    const auto now = duty::paced_of_day(settings.paced, weekday);
    if (now <= read.up_to_per_day) continue;
    constexpr const char* names[] = {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
    growth["up_to_hours"].refuse("out-of-range", "is less than " + std::string(std::data(names)[weekday]) +
                                                     " already has, " +
                                                     short_number(static_cast<double>(now.count()) / 60) +
                                                     " hours of pacing: give at least that, or shorten its times");
  }
  return read;
}

/// The fraction of the breath, from whichever of its two forms was given.
double read_fraction(const Field& body, double rate_per_min) {
  const auto fraction = body.find("inspiratory_fraction");
  const auto time = body.find("inspiratory_time_s");
  if (fraction && time) time->refuse("out-of-range", "give inspiratory_fraction or inspiratory_time_s, not both");
  if (fraction) return fraction->number(0.05, 0.95);
  if (!time)
    throw json::Refused("missing", body.place() + "/inspiratory_fraction", "is required, or inspiratory_time_s");
  const double breath_s = 60 / rate_per_min;
  const double inspiration_s = time->number(0.05, 60);
  if (inspiration_s >= breath_s) {
    time->refuse("out-of-range", short_number(inspiration_s) + " s is as long as the breath or longer: at " +
                                     short_number(rate_per_min) + " breaths a minute a breath takes " +
                                     short_number(breath_s) + " s");
  }
  const double share = inspiration_s / breath_s;
  if (share < 0.05 || share > 0.95) {
    time->refuse("out-of-range", "is " + short_number(100 * share) + " % of the breath; 5 to 95 % can be");
  }
  return share;
}

life::CellSet read_cell_set(const Field& cells) {
  life::CellSet set;
  if (const auto profile = cells.find("profile")) set.profile = profile->text(80);
  if (const auto lot = cells.find("lot")) set.lot = lot->text(60);
  if (const auto expires = cells.find("expires")) set.expires = expires->month();
  if (const auto id = cells.find("set")) set.set_id = id->text(80);
  if (const auto age = cells.find("age")) set.age = static_cast<life::CellAge>(age->word(ages));
  return set;
}

using Shown = decltype(life::Reading::value);

Shown read_step(const Field& step, const Field& body) {
  const int of = body["of"].integer(1, 100);
  if (!step.value().is_number()) step.refuse("wrong-type", "expected a whole number from 0 to " + std::to_string(of));
  return life::StepShown{step.integer(0, of), of};
}

Shown read_cell_volts(const Field& volts) {
  life::CellVolts read;
  for (const Field& cell : volts.elements(8)) read.volts.push_back(cell.number(-5, 5));
  if (read.volts.empty()) volts.refuse("out-of-range", "is empty: give the volts of each cell");
  return read;
}

void expect_true(const Field& said) {
  if (!said.boolean()) said.refuse("out-of-range", "expected true: record only what happened");
}

/// The one thing that was seen.
Shown read_shown(const Field& body) {
  static constexpr std::initializer_list<const char*> kinds{"percent", "step", "set_V", "cell_V", "warning", "stopped"};
  std::optional<Field> found;
  std::string kind;
  for (const char* name : kinds) {
    const auto here = body.find(name);
    if (!here) continue;
    if (found)
      here->refuse("out-of-range", "one reading is one thing seen: record " + std::string(name) + " on its own");
    found = here;
    kind = name;
  }
  if (!found)
    throw json::Refused("missing", body.place() + "/percent",
                        "expected one of percent, step with of, set_V, cell_V, warning or stopped");
  if (kind == "percent") return life::PercentShown{found->number(0, 100)};
  if (kind == "step") return read_step(*found, body);
  if (kind == "set_V") return life::SetVolts{found->number(0, 20)};
  if (kind == "cell_V") return read_cell_volts(*found);
  expect_true(*found);
  if (kind == "warning") return life::WarningSounded{};
  return life::SideStopped{};
}

}  // namespace

std::optional<Instant> read_end(const Field& body, Instant from) {
  const auto to = body.find("to");
  if (!to) return std::nullopt;
  const Instant end = read_time(*to);
  if (end <= from) to->refuse("out-of-range", "is not after from: give a later time, or leave it out while it lasts");
  return end;
}

Side read_side(const Field& side) { return side.word(sides) == 0 ? Side::left : Side::right; }

Instant read_time(const Field& at) {
  const Instant time = at.instant();
  using namespace std::chrono;
  if (time < sys_days(2000y / January / 1) || time >= sys_days(2100y / January / 1)) {
    at.refuse("out-of-range", "is outside the years 2000 to 2099");
  }
  return time;
}

duty::Settings read_settings(const Field& body) { return read_settings_from(body, read_time(body["from"])); }

duty::Settings read_settings_from(const Field& body, Instant from) {
  duty::Settings settings;
  settings.from = from;
  settings.side = read_side(body["side"]);
  settings.rate_per_min = body["rate_per_min"].number(1, 60);
  settings.inspiratory_fraction = read_fraction(body, settings.rate_per_min);
  settings.amplitude = body["amplitude"].number(0.001, 1000);
  if (const auto paced = body.find("paced")) {
    for (const Field& span : paced->elements(100)) settings.paced.push_back(read_span(span));
  }
  if (const auto growth = body.find("growth")) settings.growth = read_growth(*growth, body, settings);
  return settings;
}

CellChangeFact read_cell_change(const Field& body, Instant recorded_at) {
  CellChangeFact fact;
  fact.change.at = read_time(body["at"]);
  fact.change.recorded_at = recorded_at;
  fact.change.side = read_side(body["side"]);
  const auto reason = body.find("reason");
  fact.change.reason = reason ? static_cast<life::ChangeReason>(reason->word(reasons)) : life::ChangeReason::unknown;
  if (const auto cells = body.find("cells")) {
    fact.change.cells = read_cell_set(*cells);
    if (const auto place = cells->find("place")) fact.place = place->text(60);
  }
  if (const auto from_stock = body.find("from_stock")) fact.from_stock = from_stock->boolean();
  return fact;
}

life::Reading read_reading(const Field& body, Instant recorded_at) {
  life::Reading reading;
  reading.at = read_time(body["at"]);
  reading.recorded_at = recorded_at;
  reading.side = read_side(body["side"]);
  if (const auto condition = body.find("condition")) {
    reading.condition = static_cast<life::Condition>(condition->word(conditions));
  }
  reading.value = read_shown(body);
  return reading;
}

duty::PacedInstead read_paced_instead(const Field& body) {
  duty::PacedInstead paced;
  paced.side = read_side(body["side"]);
  paced.from = read_time(body["from"]);
  paced.to = read_end(body, paced.from);
  paced.hours_per_day = body["hours_per_day"].number(0, 24);
  return paced;
}

duty::SwitchedOff read_switched_off(const Field& body) {
  duty::SwitchedOff off;
  off.side = read_side(body["side"]);
  off.from = read_time(body["from"]);
  off.to = read_end(body, off.from);
  return off;
}

Stay read_stay(const Field& body) {
  Stay stay;
  stay.from = read_time(body["from"]);
  const auto to = read_end(body, stay.from);
  if (!to) throw json::Refused("missing", body.place() + "/to", "is required and missing");
  stay.to = *to;
  if (hours_between(stay.from, stay.to) > 366 * 24) body["to"].refuse("out-of-range", "a stay lasts at most a year");
  if (const auto zone = body.find("zone")) stay.zone = zone->text(60);
  if (const auto times = body.find("changing_times")) stay.changing_times = read_changing_times(*times);
  return stay;
}

}  // namespace cellarer::service
