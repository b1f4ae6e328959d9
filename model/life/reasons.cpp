// SPDX-License-Identifier: MIT
#include "model/life/reasons.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/plan_reasons.hpp"
#include "model/life/words.hpp"

namespace cellarer::life {

namespace {

constexpr double worth_saying = 0.02;  // of log use

std::string change_of(const char* what, double before, double after) {
  return std::string(what) + (after > before ? " up from " : " down from ") + number_words(before) + " to " +
         number_words(after);
}

/// What differs between two groups of settings, in words; empty where only the spans do or nothing does.
std::string difference(const duty::Settings& before, const duty::Settings& after) {
  std::string words;
  const auto add = [&](const char* what, double old_value, double new_value) {
    if (old_value == new_value) return;
    words += (words.empty() ? "" : ", ") + change_of(what, old_value, new_value);
  };
  add("amplitude", before.amplitude, after.amplitude);
  add("rate", before.rate_per_min, after.rate_per_min);
  add("inspiratory fraction", before.inspiratory_fraction, after.inspiratory_fraction);
  return words;
}

/// Settings that came into force with this set or since, and what they do to the current while pacing.
void say_settings(std::vector<std::string>& said, const Household& household, Side side, Instant as_of,
                  const Stint& stint, const Learning& learning) {
  const auto all = settings_of(household, side);
  const auto unit = unit_in_use(household, as_of);
  if (!unit) return;
  const auto lately = std::min(stint.in.at, as_of - std::chrono::hours(24 * 14));
  const auto near = as_of + std::chrono::hours(24 * 21);
  for (std::size_t i = 1; i < all.size(); ++i) {
    if (all[i].from > near || all[i].from < lately) continue;
    const bool planned = all[i].from > as_of;
    const auto words = difference(all[i - 1], all[i]);
    if (words.empty() && all[i].growth) continue;  // say_plans tells of it
    if (words.empty()) {
      said.push_back(planned ? "The spans of pacing will change soon." : "The spans of pacing changed lately.");
      continue;
    }
    const double faster = log_faster(household, learning, side, {*unit, all[i - 1]}, {*unit, all[i]});
    std::string sentence = words + ": " + faster_words(faster) + ".";
    if (planned)
      sentence = "Planned: " + sentence;
    else
      sentence[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(sentence[0])));
    said.push_back(sentence);
  }
}

/// What the cells' date says of them.
void say_storage(std::vector<std::string>& said, const Stint& stint) {
  const auto stored = storage(stint.in.cells.expires, stint.in.at);
  if (stored.expired) said.push_back("These cells were past their date when they went in.");
  const int lost = static_cast<int>(std::lround(100 * (1 - stored.share)));
  if (stint.in.cells.expires && lost >= 8) {
    said.push_back("By their date these cells have lain for years: " + std::to_string(lost) + " % less.");
  }
}

void say_records(std::vector<std::string>& said, const Household& household, Side side, Instant as_of,
                 const Stint& stint) {
  for (const auto& instead : household.paced_instead) {
    const bool touches = instead.side == side && instead.from <= as_of && (!instead.to || *instead.to > stint.in.at);
    if (touches)
      said.push_back("Paced " + number_words(instead.hours_per_day) + " hours a day for a while, as recorded.");
  }
}

void say_readings(std::vector<std::string>& said, const SetStory& story) {
  if (story.unanswered_high)
    said.push_back("The last reading is higher than these cells can show; it waits for a second one.");
  if (story.low) said.push_back("A reading was lower than expected; the forecast follows the reading.");
  if (story.perhaps_changed > 0.1) said.push_back("Readings went up as if the cells had been changed.");
  const double moved = story.lesson.belief.mean[row_use] - story.prior.belief.mean[row_use];
  if (story.readings_used > 0 && std::abs(moved) >= worth_saying) {
    said.push_back("By its readings this set runs down " + faster_words(moved) + " than expected before them.");
  }
}

/// What is expected of a set before its readings rests on all that was learned: this side's own sets, the other side's,
/// and those of the agency's other homes. What each of them adds cannot be told apart.
void say_earlier_sets(std::vector<std::string>& said, int of_this_side, const SetStory& story) {
  const double expected = story.prior.belief.mean[row_use];
  if (std::abs(expected) < worth_saying) return;
  const std::string sets = of_this_side > 0 ? "earlier sets (" + std::to_string(of_this_side) + " of this side)"
                                            : std::string("sets of other sides");
  said.push_back("Judging by " + sets + ", its cells run down " + faster_words(expected) +
                 " than its unit's profile says.");
}

}  // namespace

std::vector<std::string> reasons(const Household& household, Side side, Instant as_of, const Stint& stint,
                                 const CellsInSide& cells, const SetStory& story, const Learning& learning) {
  std::vector<std::string> said;
  if (stint.in.cells.age != CellAge::fresh) said.push_back("How much these cells were used before is not known.");
  if (cells.type_unknown)
    said.push_back("The type of these cells is not known: the forecast allows for any alkaline brand.");
  say_readings(said, story);
  say_plans(said, household, side, as_of, stint, learning);
  say_settings(said, household, side, as_of, stint, learning);
  say_storage(said, stint);
  say_records(said, household, side, as_of, stint);
  say_earlier_sets(said, learning.sets_seen(side), story);
  if (story.readings_used == 0)
    said.push_back(story.unanswered_high ? "No reading of these cells counts yet." : "No reading of these cells yet.");
  if (said.size() > 4) said.resize(4);
  return said;
}

}  // namespace cellarer::life
