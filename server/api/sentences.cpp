// SPDX-License-Identifier: MIT
#include "server/api/sentences.hpp"

#include <date/date.h>

#include <algorithm>

#include "model/life/calendar.hpp"
#include "model/life/planned.hpp"
#include "model/life/words.hpp"

namespace cellarer::api {

namespace {

date::local_days local_day(Instant at, Zone zone) { return date::floor<date::days>(zone->to_local(at)); }

std::string pieces(int count, const std::string& item) {
  const bool one = count == 1 && !item.empty() && item.back() == 's';
  return std::to_string(count) + " " + (one ? item.substr(0, item.size() - 1) : item);
}

std::string side_name(Side which) { return name_of(which); }

bool change_by_passed(const life::SideForecast& side, Instant as_of) {
  return side.change_by && *side.change_by < as_of;
}

bool asks(const life::SideForecast& side, life::Question question) {
  return std::find(side.questions.begin(), side.questions.end(), question) != side.questions.end();
}

std::string reason_of_none(const life::SideForecast& side, Side which, const std::string& next_changing_time) {
  std::string text = side.because.empty() ? std::string() : side.because.back() + " ";
  if (!asks(side, life::Question::wrong_cells)) return text + "In doubt: fresh cells in both sides.";
  return text + "Put new alkaline cells in the " + side_name(which) + " side, by " + next_changing_time +
         " at the latest.";
}

}  // namespace

const char* wire_name(life::Phrase phrase) {
  switch (phrase) {
    case life::Phrase::expected_to_last_tonight:
      return "expected_to_last_tonight";
    case life::Phrase::change_before_tonight:
      return "change_before_tonight";
    case life::Phrase::change_now:
      return "change_now";
    case life::Phrase::no_forecast:
      break;
  }
  return "no_forecast";
}

const char* wire_name(life::Question question) {
  switch (question) {
    case life::Question::were_cells_changed:
      return "were_cells_changed";
    case life::Question::was_it_changed:
      return "was_it_changed";
    case life::Question::note_the_gauge:
      return "note_the_gauge";
    case life::Question::same_change_twice:
      return "same_change_twice";
    case life::Question::which_cells:
      return "which_cells";
    case life::Question::wrong_cells:
      return "wrong_cells";
    case life::Question::still_paced_more:
      return "still_paced_more";
    case life::Question::which_settings:
      return "which_settings";
    case life::Question::which_unit:
      return "which_unit";
    case life::Question::a_reading_would_help:
      return "a_reading_would_help";
    case life::Question::reading_is_low:
      break;
  }
  return "reading_is_low";
}

const char* wire_name(life::Window window) {
  switch (window) {
    case life::Window::expected:
      return "expected";
    case life::Window::doubtful:
      return "doubtful";
    case life::Window::not_expected:
      break;
  }
  return "not_expected";
}

std::string when_text(Instant at, Instant as_of, Zone zone) {
  const auto days = (local_day(at, zone) - local_day(as_of, zone)).count();
  if (days == 0) return life::clock_words(at, zone) + " today";
  if (days == 1) return life::clock_words(at, zone) + " tomorrow";
  if (days == -1) return life::clock_words(at, zone) + " yesterday";
  return life::day_words(at, zone) + ", " + life::clock_words(at, zone);
}

std::string date_text(stock::Date day, stock::Date today) {
  constexpr int plain_without_year = 180;
  const std::chrono::sys_days at(day);
  const auto words = life::day_words(date::sys_days(at.time_since_epoch()));
  const bool far = (at - std::chrono::sys_days(today)).count() > plain_without_year;
  return far ? words + " " + std::to_string(static_cast<int>(day.year())) : words;
}

std::string side_sentence(const life::SideForecast& side, Side which, Instant as_of, const life::Household& household) {
  if (side.stopped_at) {
    return "The " + side_name(which) + " side was recorded as stopped at " +
           when_text(*side.stopped_at, as_of, life::zone_at(household, *side.stopped_at)) +
           ". Look at the wearer first. Change the " + side_name(which) + " cells now.";
  }
  if (side.warned_at) {
    const Zone zone = life::zone_at(household, *side.warned_at);
    const bool recent = as_of - *side.warned_at < std::chrono::hours(12);
    const auto at = recent ? life::clock_words(*side.warned_at, zone) : when_text(*side.warned_at, as_of, zone);
    return "The unit warned at " + at + ". Change the " + side_name(which) + " cells now.";
  }
  switch (side.phrase) {
    case life::Phrase::expected_to_last_tonight:
      return "Expected to last tonight.";
    case life::Phrase::change_before_tonight:
      return "Change before tonight.";
    case life::Phrase::change_now:
      return "Change now.";
    case life::Phrase::no_forecast:
      break;
  }
  return "No forecast.";
}

std::string side_limit(const life::SideForecast& side, Side which, Instant next_changing_time, Instant as_of,
                       const life::Household& household) {
  if (side.stopped_at) return "Use the backup ventilation as prescribed.";
  if (side.warned_at) return "The unit's own alarm comes before any forecast.";
  const auto when = [&](Instant at) { return when_text(at, as_of, life::zone_at(household, at)); };
  const auto next = when(next_changing_time);
  if (life::in_hospital_during(household, as_of, as_of + std::chrono::seconds(1)))
    return side.because.front() + " Say so here when back home.";
  if (side.phrase == life::Phrase::no_forecast) return reason_of_none(side, which, next);
  if (side.phrase == life::Phrase::change_now && asks(side, life::Question::reading_is_low)) {
    return "The last reading is low: these cells may run out at any moment; do not wait for the changing time.";
  }
  if (change_by_passed(side, as_of)) {
    const auto why = side.change_for_visit ? "Fresh cells are wanted for the visit, " + when(*side.change_for_visit)
                                           : "Change by was " + when(*side.change_by);
    return why + ". No change of the " + side_name(which) + " cells recorded: was it changed?";
  }
  const std::string visit = side.change_for_visit ? ", for the visit." : ".";
  switch (side.phrase) {
    case life::Phrase::change_now:
      return "These cells may run out at any moment; do not wait for the changing time.";
    case life::Phrase::change_before_tonight:
      return "By " + when(*side.change_by) + visit;
    default:
      return "Change by " + when(*side.change_by) + visit;
  }
}

std::string question_text(life::Question question, const life::SideForecast& side, Side which) {
  const auto name = side_name(which);
  switch (question) {
    case life::Question::were_cells_changed:
      return "Were the " + name + " cells changed?";
    case life::Question::was_it_changed:
      return "No change of the " + name + " cells recorded: was it changed?";
    case life::Question::note_the_gauge:
      return "Look at the unit's gauge for the " + name + " side and note it.";
    case life::Question::same_change_twice:
      return "Two changes of the " + name + " cells within 12 hours: the same change?";
    case life::Question::which_cells:
      if (side.cells && side.cells->age == life::CellAge::fresh) {
        return "Which cells are in the " + name + " side? Their type was not recorded.";
      }
      return "Which cells are in the " + name + " side?" +
             (side.phrase == life::Phrase::change_now
                  ? " It is not recorded."
                  : " If nobody knows, put in fresh cells at the next changing time: those in now may be spent.");
    case life::Question::wrong_cells:
      return "The cells in the " + name + " side have no forecast: use new alkaline cells of one type.";
    case life::Question::still_paced_more:
      return "Is the " + name + " side still paced more than its settings say?";
    case life::Question::which_settings:
      return "Which settings does the " + name + " side have since the stay in hospital?";
    case life::Question::which_unit:
      return "Which unit is in use since the stay in hospital?";
    case life::Question::a_reading_would_help:
      return "A look at the unit's gauge for the " + name + " side would tell most now. Note it if you can.";
    case life::Question::reading_is_low:
      break;
  }
  return "The last reading of the " + name +
         " side is lower than expected: the forecast goes by it, to be early rather than late.";
}

std::string stock_sentence(const stock::ItemForecast& item, bool lasts_known) {
  if (item.please_count) return "Please count the " + item.item + ".";
  if (item.usable == 0) return "No " + item.item + " in the house.";
  if (!lasts_known) return "How long this lasts is not known.";
  if (item.days.p05 >= item.horizon_days) return "Enough for more than a year.";
  return "Enough for " + std::to_string(item.days.p05) + (item.days.p05 == 1 ? " day." : " days.");
}

std::string stock_limit(const stock::ItemForecast& item, bool lasts_known, stock::Date today) {
  std::string text = pieces(item.quantity, item.item) + (item.please_count ? " by the books." : ".");
  if (item.expired > 0) text.append(" ").append(std::to_string(item.expired)).append(" past their date: do not use.");
  if (item.usable == 0 && item.item == stock::cells_item) {
    text += " There are no spare cells for when the unit warns: get new alkaline cells of one type today.";
  }
  if (!lasts_known) return text;
  if (item.order_by && item.order_quantity > 0) {
    const bool now = item.order_late || *item.order_by <= today;
    text += " Order " + std::to_string(item.order_quantity) +
            (now ? " today." : " by " + date_text(*item.order_by, today) + ".");
  }
  return text;
}

}  // namespace cellarer::api
