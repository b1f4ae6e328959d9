// SPDX-License-Identifier: MIT
#include "model/life/plan_reasons.hpp"

#include <algorithm>
#include <cmath>

#include "model/duty/growth.hpp"
#include "model/life/calendar.hpp"
#include "model/life/course.hpp"
#include "model/life/planned.hpp"
#include "model/life/words.hpp"

namespace cellarer::life {

namespace {

constexpr std::chrono::days soon{21};

using Said = std::vector<std::string>;

/// The settings in force at a moment; null before the first.
const duty::Settings* in_force(const std::vector<duty::Settings>& settings, Instant at) {
  const duty::Settings* found = nullptr;
  for (const auto& one : settings) {
    if (one.from <= at) found = &one;
  }
  return found;
}

/// Whether a weekday still gains on the next week.
bool still_grows(const duty::Settings& settings, Instant at) {
  const auto& growth = *settings.growth;
  const auto weeks = std::max(static_cast<int>((at - growth.since) / std::chrono::days(7)), 0);
  for (std::size_t weekday = 0; weekday < 7; ++weekday) {
    const auto now = duty::paced_of_day(duty::grown_spans(settings.paced, growth, weeks), weekday);
    const auto next = duty::paced_of_day(duty::grown_spans(settings.paced, growth, weeks + 1), weekday);
    if (next > now) return true;
  }
  return false;
}

void say_growth(Said& said, const std::vector<duty::Settings>& settings, Instant as_of) {
  for (const auto& one : settings) {
    if (!one.growth) continue;
    const bool planned = one.from > as_of && one.from < as_of + soon;
    const bool grows = &one == in_force(settings, as_of) && still_grows(one, as_of);
    if (!planned && !grows) continue;
    said.push_back(std::string(planned ? "Planned: pacing" : "Pacing") + " grows by " +
                   std::to_string(one.growth->a_week.count()) + " minutes a week until " +
                   number_words(static_cast<double>(one.growth->up_to_per_day.count()) / 60) + " hours.");
  }
}

std::string hours_words(double hours_per_day) {
  return hours_per_day >= 24 ? "all day" : number_words(hours_per_day) + " hours a day";
}

/// "Paced all day since Mon 2 Mar.", "Planned: amplitude 4.6 instead of 4 from Mon 2 Mar: 14 % faster."
void say_more(Said& said, const Household& household, const Learning& learning,
              const std::vector<duty::Settings>& settings, std::size_t unit, Side side, Instant as_of) {
  for (const auto& more : household.paced_more) {
    const bool planned = more.from > as_of;
    if (more.side != side || more.from > as_of + soon || (more.to && *more.to <= as_of)) continue;
    const auto day = day_words(more.from, zone_at(household, more.from));
    const std::string until = more.to ? " until " + day_words(*more.to, zone_at(household, *more.to)) : "";
    const std::string when = (planned ? " from " : " since ") + day + until;
    if (more.hours_per_day)
      said.push_back((planned ? "Planned: paced " : "Paced ") + hours_words(*more.hours_per_day) + when + ".");
    const auto* usual = in_force(settings, std::max(as_of, more.from));
    if (!more.amplitude || usual == nullptr || usual->amplitude >= *more.amplitude) continue;
    auto raised = *usual;
    raised.amplitude = *more.amplitude;
    const double faster = log_faster(household, learning, side, {unit, *usual}, {unit, raised});
    said.push_back((planned ? "Planned: amplitude " : "Amplitude ") + number_words(*more.amplitude) + " instead of " +
                   number_words(usual->amplitude) + when + ": " + faster_words(faster) + ".");
  }
}

/// A unit that comes into use soon, or came during this set.
void say_units(Said& said, const Household& household, const Learning& learning, const duty::Settings* settings,
               Side side, Instant as_of, const Stint& stint) {
  for (std::size_t index = 0; index < household.units.size(); ++index) {
    const auto& unit = household.units[index];
    const bool planned = unit.from > as_of;
    const auto before = unit_in_use(household, unit.from - std::chrono::seconds(1));
    if (!before || unit.from > as_of + soon || unit.from <= stint.in.at) continue;
    const auto& old_unit = household.units[*before].stimulator;
    std::string sentence = planned ? "Planned: unit " + unit.serial + " from " : "Unit " + unit.serial + " since ";
    sentence += day_words(unit.from, zone_at(household, unit.from));
    const bool comparable = old_unit.reference_V == unit.stimulator.reference_V &&
                            old_unit.converter == unit.stimulator.converter && settings != nullptr;
    if (comparable) {
      const double faster = log_faster(household, learning, side, {*before, *settings}, {index, *settings});
      if (std::abs(faster) >= 0.005) sentence += ": " + faster_words(faster);
    }
    said.push_back(sentence + ".");
  }
}

void say_visit(Said& said, const Household& household, Side side, Instant as_of, const Stint& stint) {
  const auto wanted = wanted_change(household, side, stint.in.at, as_of);
  if (!wanted || wanted->by > as_of + soon) return;
  const Zone zone = zone_at(household, wanted->visit);
  said.push_back("Fresh cells are wanted for the visit on " + day_words(wanted->visit, zone) + ", " +
                 clock_words(wanted->visit, zone) + ".");
}

void say_stays(Said& said, const Household& household, Instant as_of) {
  for (const auto& stay : household.stays) {
    const bool elsewhere = stay.zone != nullptr && stay.zone != household.zone;
    if (stay.to <= as_of || stay.from > as_of + soon || (!elsewhere && stay.changing_times.empty())) continue;
    said.push_back("Away from " + day_words(stay.from, zone_at(household, stay.from)) + " to " +
                   day_words(stay.to, zone_at(household, stay.from)) +
                   (elsewhere ? ": nights by the clock of " + stay.zone->name() + "." : ", other changing times."));
  }
}

}  // namespace

double log_faster(const Household& household, const Learning& learning, Side side, const UnitAtSettings& before,
                  const UnitAtSettings& after) {
  const auto drawn = [&](const UnitAtSettings& one) {
    return Learning::Drawn{one.unit, duty::pacing_load(household.units[one.unit].stimulator.side(side), one.settings)};
  };
  const auto was = drawn(before), is = drawn(after);
  return std::log(is.load.mean_mA() / was.load.mean_mA()) + learning.log_use_apart(side, was, is);
}

void say_plans(std::vector<std::string>& said, const Household& household, Side side, Instant as_of, const Stint& stint,
               const Learning& learning) {
  const auto unit = unit_in_use(household, as_of);
  if (!unit) return;
  const auto settings = settings_of(household, side);
  say_visit(said, household, side, as_of, stint);
  say_more(said, household, learning, settings, *unit, side, as_of);
  say_growth(said, settings, as_of);
  say_units(said, household, learning, in_force(settings, as_of), side, as_of, stint);
  say_stays(said, household, as_of);
}

}  // namespace cellarer::life
