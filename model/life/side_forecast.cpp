// SPDX-License-Identifier: MIT
#include "model/life/side_forecast.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/calendar.hpp"
#include "model/life/planned.hpp"
#include "model/life/policy.hpp"
#include "model/life/reasons.hpp"
#include "model/life/worth_asking.hpp"

namespace cellarer::life {

namespace {

using std::chrono::hours;

/// How far ahead a side is followed: longer than any set lasts that is paced at all. Most are empty in a few weeks.
constexpr hours horizon{24 * 400}, near_horizon{24 * 125};
constexpr std::size_t most_nights = 90;
/// Nothing recorded for this long, or for half a set's life: the gauge should be looked at.
constexpr double silent_h = 7 * 24;
/// Cut-off before the next changing time is this likely in a set of unknown age: waiting is no longer advised.
constexpr double unknown_set_limit = 0.2;
constexpr int gauge_points = 48;

/// The unit's own word since the cells went in: it needs no forecast to count.
void note_alarms(SideForecast& forecast, const Stint& stint) {
  for (const auto& reading : stint.readings) {
    const bool warned = std::holds_alternative<WarningSounded>(reading.value);
    const bool stopped = std::holds_alternative<SideStopped>(reading.value);
    if (warned && !forecast.warned_at) forecast.warned_at = reading.at;
    if (stopped && !forecast.stopped_at) forecast.stopped_at = reading.at;
  }
}

/// After the unit's own word there is no time left to show, no strip, no date, no question.
SideForecast only_the_alarm(const SideForecast& forecast) {
  SideForecast alarm;
  alarm.phrase = Phrase::change_now;
  alarm.warned_at = forecast.warned_at;
  alarm.stopped_at = forecast.stopped_at;
  alarm.last_recorded_at = forecast.last_recorded_at;
  alarm.cells_since = forecast.cells_since;
  alarm.cells = forecast.cells;
  alarm.sets_seen = forecast.sets_seen;
  alarm.set_life_h = forecast.set_life_h;
  alarm.set_life_log_sd = forecast.set_life_log_sd;
  alarm.shortest_life_h = forecast.shortest_life_h;
  alarm.planned_life_h = forecast.planned_life_h;
  return alarm;
}

SideForecast none(SideForecast forecast, std::string because) {
  if (forecast.warned_at || forecast.stopped_at) return only_the_alarm(forecast);
  forecast.phrase = Phrase::no_forecast;
  forecast.because.push_back(std::move(because));
  return forecast;
}

bool off_at(const Household& household, Side side, Instant at) {
  return std::any_of(household.switched_off.begin(), household.switched_off.end(), [&](const duty::SwitchedOff& off) {
    return off.side == side && off.from <= at && (!off.to || at < *off.to);
  });
}

/// Clock hours from `as_of` to a crossing, never negative.
Quantiles<double> hours_to(const Quantiles<Instant>& at, Instant as_of) {
  const auto left = [&](Instant crossing) { return std::max(hours_between(as_of, crossing), 0.0); };
  return {left(at.p05), left(at.p50), left(at.p95)};
}

Quantiles<Instant> moments(const Quantiles<double>& crossed_mAh, const Course& course) {
  const auto at = [&](double charge_mAh) { return course.when(std::max(charge_mAh, 0.0)); };
  return {at(crossed_mAh.p05), at(crossed_mAh.p50), at(crossed_mAh.p95)};
}

/// The gauge as expected from the change to the end, for the range chart.
std::vector<GaugePoint> gauge_curve(const SetStory& story, const Course& course, Instant end) {
  constexpr double z95 = 1.6449;
  std::vector<GaugePoint> points;
  const auto shown = [](double percent) { return std::clamp(percent, 0.0, 100.0); };
  std::vector<double> charges;
  for (int i = 0; i <= gauge_points; ++i) {
    points.push_back({course.from() + (end - course.from()) * i / gauge_points, 0, 0, 0});
    charges.push_back(course.charge_mAh(points.back().at));
  }
  const auto gauges = story.posterior->gauge_at(charges);
  for (std::size_t i = 0; i < gauges.size(); ++i) {
    const auto [mean, sd] = gauges[i];
    points[i] = {points[i].at, shown(mean - z95 * sd), shown(mean), shown(mean + z95 * sd)};
  }
  return points;
}

/// The side's course from when its cells went in, as far ahead as anything is asked about: ninety nights, and twelve
/// days past the end. Where the side is to draw thrice what the cells hold within 75 days, none of them lasts longer,
/// be it used at three fifths of what is expected and hold eight fifths; a year's calendar need not be laid out then.
Course course_of(const Household& household, Side side, Instant from, Instant as_of, const cell::Profile& cell) {
  constexpr hours empty_by_then{24 * 75};
  Course near(household, side, from, as_of + near_horizon);
  const double drawn_mAh = near.charge_mAh(as_of + empty_by_then) - near.charge_mAh(as_of);
  if (drawn_mAh >= 3 * cell.curve.capacity_mAh()) return near;
  return Course(household, side, from, as_of + horizon);
}

double days_since(const std::optional<Instant>& lesson, Instant at) {
  return lesson ? std::max(hours_between(*lesson, at), 0.0) / 24 : 0;
}

/// What a fresh set of these cells would do from now on, without readings.
void foresee_next_set(SideForecast& forecast, const Household& household, const Course& course,
                      const Learning& learning, const std::optional<Instant>& last_lesson, const cell::Profile& cell,
                      LoadTables& tables) {
  const Instant as_of = course.from();
  if (course.charge_per_day_mAh(as_of) <= 0) return;
  SetPosterior::Setup setup;
  setup.course = &course;
  setup.cell = &cell;
  setup.tables = &tables;
  setup.prior = learning.prior(course, cell, 0, days_since(last_lesson, as_of));
  const auto cutoff = SetPosterior(setup).cutoff();
  const auto at = moments(quantiles(cutoff), course);
  const auto life = hours_to(at, as_of);
  if (!(life.p50 > 0 && life.p05 > 0)) return;
  constexpr double z_between_05_and_95 = 2 * 1.6449;
  forecast.set_life_h = life.p50;
  forecast.set_life_log_sd = std::log(life.p95 / life.p05) / z_between_05_and_95;
  forecast.shortest_life_h = shortest_coming_life_h(course, life.p50);
  const auto times = changing_times(household, as_of, std::min(at.p95 + hours(24 * 12), course.to()));
  forecast.planned_life_h =
      std::max(hours_between(as_of, plan_change(cutoff, course, times, household.policy).change_by), 12.0);
}

void ask(SideForecast& forecast, const Stint& stint, const CellsInSide& cells, const SetStory& story,
         const Household& household, Instant as_of) {
  if (story.unanswered_high || story.perhaps_changed > 0.1) forecast.questions.push_back(Question::were_cells_changed);
  if (story.low) forecast.questions.push_back(Question::reading_is_low);
  if (!story.low && forecast.change_by && *forecast.change_by < as_of)
    forecast.questions.push_back(Question::was_it_changed);
  if (cells.type_unknown || stint.in.cells.age != CellAge::fresh) forecast.questions.push_back(Question::which_cells);
  const bool twice =
      std::any_of(household.cell_changes.begin(), household.cell_changes.end(), [&](const CellChange& change) {
        return change.side == stint.in.side && change.perhaps_the_same && change.at >= stint.in.at &&
               change.at <= as_of;
      });
  if (twice) forecast.questions.push_back(Question::same_change_twice);
  const double half_life_h = 0.5 * forecast.set_life_h.value_or(2 * silent_h);
  const double silence_h = forecast.last_recorded_at ? hours_between(*forecast.last_recorded_at, as_of) : silent_h;
  if (silence_h >= std::min(silent_h, half_life_h)) forecast.questions.push_back(Question::note_the_gauge);
}

/// The phrase, from the plan and the moment. Earlier is always right: in doubt the more urgent one.
Phrase phrase_of(const SideForecast& forecast, const SetStory& story, const Course& course, const Stint& stint,
                 const Household& household, Instant as_of) {
  if (forecast.warned_at || forecast.stopped_at || *forecast.change_by < as_of) return Phrase::change_now;
  const auto times = changing_times(household, as_of, as_of + hours(48));
  const auto next = *std::find_if(times.begin(), times.end(), [&](Instant time) { return time >= as_of; });
  const double risk_until_next = story.cutoff.by(course.charge_mAh(next));
  const auto& policy = household.policy;
  const double forgiven = policy.miss_probability > 0 ? policy.risk_limit / policy.miss_probability : policy.risk_limit;
  const auto tonight_from = start_of_tonight(household, as_of);
  if (next > as_of && risk_until_next > forgiven) {
    // Of a set of unknown age no more can be known; by day its fresh cells may wait for the evening's changing time.
    const bool unknown_age = stint.in.cells.age != CellAge::fresh;
    const bool till_evening = unknown_age && tonight_from > as_of && risk_until_next < unknown_set_limit;
    return till_evening ? Phrase::change_before_tonight : Phrase::change_now;
  }
  return *forecast.change_by <= tonight_from ? Phrase::change_before_tonight : Phrase::expected_to_last_tonight;
}

}  // namespace

SideForecast side_forecast(const Household& household, Side side, Instant as_of, const Learning& learning,
                           const std::optional<Instant>& last_lesson, const std::vector<Stint>& past,
                           LoadTables& tables, Chart chart, RunningSet* running) {
  SideForecast forecast;
  forecast.last_recorded_at = last_recorded(household, side, as_of);
  const auto unit = unit_in_use(household, as_of);
  if (past.empty()) return none(forecast, "No cells are recorded for this side.");
  const auto& stint = past.back();
  note_alarms(forecast, stint);
  if (const auto silent = silence(household, side, as_of)) {
    forecast.questions = silent->questions;
    // Back home with other things unknown: the cells too, where nobody knows them.
    if (!silent->questions.empty() && stint.in.cells.age != CellAge::fresh)
      forecast.questions.push_back(Question::which_cells);
    return none(forecast, silent->because);
  }
  if (!unit) return none(forecast, "No unit is recorded for this household.");
  forecast.cells = stint.in.cells;
  forecast.cells_since = stint.in.at;
  forecast.sets_seen = learning.sets_seen(side);
  const auto settings = settings_of(household, side);
  if (settings.empty() || settings.front().from > as_of)
    return none(forecast, "No settings are recorded for this side.");
  const auto cells = cells_in_side(household, stint.in.cells);
  if (cells.profile == nullptr) {
    forecast.questions.push_back(Question::wrong_cells);
    return none(forecast, cells.why_not);
  }
  if (off_at(household, side, as_of)) return none(forecast, "This side is recorded as switched off.");

  const Course course = course_of(household, side, stint.in.at, as_of, *cells.profile);
  if (course.charge_per_day_mAh(as_of) <= 0) return none(forecast, "By the settings this side does not pace.");
  const auto prior = learning.prior(course, *cells.profile, storage(stint.in.cells.expires, stint.in.at).log_sd,
                                    days_since(last_lesson, stint.in.at));
  SetStorySetup setup;
  setup.course = &course;
  setup.cell = cells.profile;
  setup.tables = &tables;
  setup.prior = prior;
  setup.carried_mAh = carried_charge_mAh(household, as_of, stint);
  std::optional<SetStory> anew;
  if (running == nullptr) anew = follow(setup, stint);
  const SetStory& story = anew ? *anew : running->up_to(setup, stint);
  forecast.cutoff_at = moments(story.cutoff_mAh, course);
  forecast.warning_at = moments(story.warning_mAh, course);
  // A gauge that errs high may warn late in the model; the page never promises a warning after the end.
  auto& warning = *forecast.warning_at;
  warning = {std::min(warning.p05, forecast.cutoff_at->p05), std::min(warning.p50, forecast.cutoff_at->p50),
             std::min(warning.p95, forecast.cutoff_at->p95)};
  forecast.remaining_h = hours_to(*forecast.cutoff_at, as_of);
  if (chart == Chart::wanted) forecast.gauge = gauge_curve(story, course, std::max(forecast.cutoff_at->p95, as_of));

  // The set's own changing times, from the first after it went in, to well past its end.
  const auto certain = std::min(std::max(forecast.cutoff_at->p95, as_of) + hours(24 * 12), course.to());
  auto times = changing_times(household, stint.in.at, certain);
  times.erase(times.begin());
  const auto plan = plan_change(story.cutoff, course, times, household.policy);
  forecast.change_by = plan.change_by;
  forecast.no_later_than = plan.no_later_than;
  forecast.nights = nights_ahead(story.cutoff, course, household, as_of, plan.change_by, most_nights);
  heed_visits(forecast, household, side, as_of);
  foresee_next_set(forecast, household, course.cut_from(as_of), learning, last_lesson, *cells.profile, tables);
  forecast.because = reasons(household, side, as_of, stint, cells, story, learning);
  ask(forecast, stint, cells, story, household, as_of);
  const auto last_reading = stint.readings.empty() ? stint.in.at : stint.readings.back().at;
  const bool asked = std::find(forecast.questions.begin(), forecast.questions.end(), Question::note_the_gauge) !=
                     forecast.questions.end();
  if (!asked && worth_asking(story, course, last_reading, as_of, *forecast.change_by))
    forecast.questions.push_back(Question::a_reading_would_help);
  ask_about_plans(forecast, household, side, as_of);
  forecast.phrase = phrase_of(forecast, story, course, stint, household, as_of);
  if (forecast.warned_at || forecast.stopped_at) return only_the_alarm(forecast);
  return forecast;
}

}  // namespace cellarer::life
