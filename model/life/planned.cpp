// SPDX-License-Identifier: MIT
#include "model/life/planned.hpp"

#include <algorithm>

#include "model/life/calendar.hpp"
#include "model/life/words.hpp"

namespace cellarer::life {

namespace {

using std::chrono::days;

constexpr days asked_again_after{3};
constexpr days fresh_enough{1};

/// The last changing time before a visit.
Instant last_time_before(const Household& household, Instant visit) {
  const auto times = changing_times(household, visit - days(4), visit);
  return *std::find_if(times.rbegin(), times.rend(), [&](Instant time) { return time < visit; });
}

bool recorded_since(const Household& household, Side side, Instant admitted, Instant as_of) {
  return std::any_of(household.settings.begin(), household.settings.end(), [&](const duty::Settings& settings) {
    return settings.side == side && settings.from >= admitted && settings.from <= as_of;
  });
}

bool unit_recorded_since(const Household& household, Instant admitted, Instant as_of) {
  return std::any_of(household.units.begin(), household.units.end(),
                     [&](const UnitInUse& unit) { return unit.from >= admitted && unit.from <= as_of; });
}

bool has(const SideForecast& forecast, Question question) {
  return std::find(forecast.questions.begin(), forecast.questions.end(), question) != forecast.questions.end();
}

}  // namespace

std::optional<Silence> silence(const Household& household, Side side, Instant as_of) {
  Silence silent;
  bool settings_unknown = false, unit_unknown = false;
  for (const HospitalStay& stay : household.hospital) {
    if (stay.from > as_of) continue;
    if (!stay.to || *stay.to > as_of) {
      const Zone zone = zone_at(household, stay.from);
      silent.because = "In hospital since " + day_words(stay.from, zone) + ", " + clock_words(stay.from, zone) + ".";
      return silent;
    }
    settings_unknown |= stay.settings != SinceHospital::as_before && !recorded_since(household, side, stay.from, as_of);
    unit_unknown |= stay.unit != SinceHospital::as_before && !unit_recorded_since(household, stay.from, as_of);
  }
  if (settings_unknown) silent.questions.push_back(Question::which_settings);
  if (unit_unknown) silent.questions.push_back(Question::which_unit);
  if (silent.questions.empty()) return std::nullopt;
  const char* what = settings_unknown && unit_unknown ? "settings and the unit"
                     : settings_unknown               ? "settings"
                                                      : "unit";
  silent.because = "The " + std::string(what) + " since the stay in hospital " +
                   (what == std::string("unit") ? "is" : "are") + " not recorded.";
  return silent;
}

bool in_hospital_during(const Household& household, Instant from, Instant to) {
  return std::any_of(household.hospital.begin(), household.hospital.end(),
                     [&](const HospitalStay& stay) { return stay.from < to && (!stay.to || *stay.to > from); });
}

std::optional<WantedChange> wanted_change(const Household& household, Side side, Instant cells_since, Instant as_of) {
  std::optional<WantedChange> wanted;
  for (const Visit& visit : household.visits) {
    if (visit.side != side || visit.at <= as_of) continue;
    const Instant by = last_time_before(household, visit.at);
    if (cells_since > by - fresh_enough) continue;
    if (!wanted || by < wanted->by) wanted = {by, visit.at};
  }
  return wanted;
}

void heed_visits(SideForecast& forecast, const Household& household, Side side, Instant as_of) {
  if (!forecast.change_by || !forecast.cells_since) return;
  const auto wanted = wanted_change(household, side, *forecast.cells_since, as_of);
  if (!wanted || *forecast.change_by <= wanted->by) return;
  forecast.change_by = wanted->by;
  forecast.change_for_visit = wanted->visit;
}

void ask_about_plans(SideForecast& forecast, const Household& household, Side side, Instant as_of) {
  for (const Visit& visit : household.visits) {
    const bool lately = visit.side == side && visit.at <= as_of && as_of < visit.at + asked_again_after;
    if (!lately || has(forecast, Question::was_it_changed) || !forecast.cells_since) continue;
    if (*forecast.cells_since <= last_time_before(household, visit.at) - fresh_enough)
      forecast.questions.push_back(Question::was_it_changed);
  }
  for (const duty::PacedMore& more : household.paced_more) {
    const Instant said = std::max(more.from, more.still_at.value_or(more.from));
    const bool open = more.side == side && more.from <= as_of && !more.to;
    if (open && as_of >= said + asked_again_after && !has(forecast, Question::still_paced_more))
      forecast.questions.push_back(Question::still_paced_more);
  }
}

std::vector<Instant> visits_after(const Household& household, Side side, Instant after) {
  std::vector<Instant> times;
  for (const Visit& visit : household.visits) {
    if (visit.side != side) continue;
    const Instant by = last_time_before(household, visit.at);
    if (by > after) times.push_back(by);
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

double shortest_coming_life_h(const Course& ahead, double life_h) {
  constexpr days looked_at{90}, step{7};
  const Instant now = ahead.from();
  const double set_mAh = ahead.charge_mAh(hours_after(now, life_h));
  const double all_mAh = ahead.charge_mAh(ahead.to());
  double shortest_h = life_h;
  for (Instant start = now + step; start <= now + looked_at; start += step) {
    const double spent_mAh = ahead.charge_mAh(start) + set_mAh;
    if (spent_mAh > all_mAh) break;
    shortest_h = std::min(shortest_h, hours_between(start, ahead.when(spent_mAh)));
  }
  return shortest_h;
}

}  // namespace cellarer::life
