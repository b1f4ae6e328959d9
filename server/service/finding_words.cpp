// SPDX-License-Identifier: MIT
#include "server/service/finding_words.hpp"

#include <cmath>

namespace cellarer::service {

using review::Cause;
using review::Finding;
using review::Kind;
using review::Scope;
using review::Step;

namespace {

std::string plain(double value) {
  char text[32];
  std::snprintf(text, sizeof text, std::abs(value) < 9.95 ? "%.1f" : "%.0f", value);
  return text;
}

std::string counted(int number, const std::string& what) {
  return std::to_string(number) + ' ' + what + (number == 1 ? "" : "s");
}

std::string where(const Finding& finding) {
  if (finding.household.empty()) return "";
  return finding.scope == Scope::both ? " on both sides" : std::string(" on the ") + name_of(finding.scope) + " side";
}

std::string range(const review::Size& change) {
  return more_or_less(change.mean) + " (95 %: " + plain(percent_more(change.mean - 1.96 * change.sd)) + " to " +
         plain(percent_more(change.mean + 1.96 * change.sd)) + " %)";
}

}  // namespace

bool less(const Finding& finding) { return finding.kind == Kind::changes_too_early || finding.change.mean < 0; }

const char* name_of(Kind kind) {
  static const char* names[] = {"drift",           "step",
                                "asymmetry",       "bad_lot",
                                "unit_eats_cells", "changes_too_early",
                                "gauge_disagrees", "settings_not_up_to_date",
                                "paced_longer"};
  return names[static_cast<int>(kind)];
}

const char* name_of(Cause cause) {
  static const char* names[] = {"settings", "cells", "unit", "habit", "gauge", "timing"};
  return names[static_cast<int>(cause)];
}

const char* name_of(Step step) {
  static const char* names[] = {"swap_units",    "other_lot",  "meter_at_removal", "measure_unit",
                                "read_settings", "note_hours", "ask_home"};
  return names[static_cast<int>(step)];
}

const char* name_of(Scope scope) {
  static const char* names[] = {"left", "right", "both"};
  return names[static_cast<int>(scope)];
}

const char* words_of(Cause cause, bool less) {
  if (cause == Cause::cells && less) return "the cells hold more than their type does";
  static const char* words[] = {
      "the settings on the unit are not those of the record", "the cells hold less than their type does",
      "the unit draws another current than its model",        "the hours paced are not those of the record",
      "the gauge shows what the cells do not bear out",       "the home changes its cells sooner than it needs to"};
  return words[static_cast<int>(cause)];
}

const char* words_of(Step step) {
  static const char* words[] = {"Let the next three sets run with another unit in service.",
                                "Take the next three sets from another lot.",
                                "Read the set with a voltmeter when it comes out.",
                                "Measure the unit's current on the bench.",
                                "Read the settings off the unit and hold them against the record.",
                                "Note the hours paced for a week.",
                                "Ask the home what makes it change when it does."};
  return words[static_cast<int>(step)];
}

std::string title_of(const Finding& finding) {
  const std::string more = less(finding) ? "less" : "more";
  switch (finding.kind) {
    case Kind::drift:
      return std::string("Use ") + (less(finding) ? "falls" : "grows") + where(finding) + ".";
    case Kind::step:
      return "Use changed from one set to the next" + where(finding) + ".";
    case Kind::asymmetry:
      return "Use is " + more + " than expected from the first set on" + where(finding) + ".";
    case Kind::bad_lot:
      return "The cells of lot " + finding.subject + " hold " + (less(finding) ? "more" : "less") +
             " than their type does.";
    case Kind::unit_eats_cells:
      return "Unit " + finding.subject + " uses " + more + " than its model.";
    case Kind::changes_too_early:
      return "Changes come long before they need to.";
    case Kind::gauge_disagrees:
      return "The gauge of unit " + finding.subject + " shows what the cells do not bear out.";
    case Kind::settings_not_up_to_date:
      return "Settings may not be those of the record" + where(finding) + ".";
    case Kind::paced_longer:
      return "Hours paced may not be those of the record" + where(finding) + ".";
  }
  return "";
}

std::string verdict_of(const Finding& finding) {
  if (!finding.named && finding.next.empty()) return "Cannot tell the cause, and no step known here would.";
  if (!finding.named) return std::string("Cannot tell the cause yet. ") + words_of(finding.next.front().step);
  if (finding.kind == Kind::changes_too_early && finding.named != Cause::timing)
    return std::string("Most probably ") + words_of(*finding.named, true) + ", so the changes seem early.";
  switch (*finding.named) {
    case Cause::timing:
      return "Most probably the home changes its cells sooner than it needs to. It may have reasons of its own: ask, "
             "and "
             "say "
             "what the forecast would have waited for.";
    case Cause::settings:
      return "Most probably the settings on the unit are not those of the record. Which are right is for the clinician "
             "to say.";
    case Cause::cells:
      return "Most probably it is the cells of lot " + finding.subject + ".";
    case Cause::unit:
      return "Most probably it is unit " + finding.subject + ".";
    case Cause::habit:
      return "Most probably the hours paced are not those of the record.";
    case Cause::gauge:
      return "Most probably the gauge of unit " + finding.subject + " is off, and no more is used at all.";
  }
  return "";
}

std::vector<std::string> evidence_of(const Finding& finding) {
  if (finding.kind == Kind::changes_too_early) {
    return {"The newest " + counted(finding.sets_touched, "planned change") + " came when " +
                plain(100 * finding.mean_touched) + " % of the charge was used on average.",
            "That this is below 60 %: " + odds_words(finding.probability) + "."};
  }
  std::vector<std::string> evidence;
  if (finding.household.empty()) {
    evidence.push_back(counted(finding.sets_touched, "set") + " in " + counted(finding.households, "home") + " used " +
                       more_or_less(finding.mean_touched) + ", each against its own side's level.");
  } else {
    evidence.push_back(counted(finding.sets_touched, "set") + " since then used " + more_or_less(finding.mean_touched) +
                       ".");
    if (finding.sets_before > 0)
      evidence.push_back(counted(finding.sets_before, "set") + " before used " + more_or_less(finding.mean_before) +
                         ".");
  }
  evidence.push_back("The difference, weighed with how much sets differ anyway: " + range(finding.change) + ".");
  evidence.push_back("That something is wrong: " + odds_words(finding.probability) + ".");
  return evidence;
}

double percent_more(double log_ratio) { return std::round(1000 * std::expm1(log_ratio)) / 10; }

std::string more_or_less(double log_ratio) {
  const double percent = percent_more(log_ratio);
  if (std::abs(percent) < 0.05) return "as expected";
  return plain(std::abs(percent)) + (percent > 0 ? " % more" : " % less");
}

std::string odds_words(double probability) {
  if (probability < 0.01) return "less than 1 in 100";
  if (probability > 0.99) return "more than 99 in 100";
  return std::to_string(std::lround(100 * probability)) + " in 100";
}

}  // namespace cellarer::service
