// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "model/review/hypotheses.hpp"

namespace cellarer::review {

enum class Kind {
  drift,                    ///< use grows; cause not told yet
  step,                     ///< use changed from one set to the next; cause not told yet
  asymmetry,                ///< a side was off from its first set on
  bad_lot,                  ///< the cells of one lot hold less
  unit_eats_cells,          ///< a unit draws more than its model
  changes_too_early,        ///< changes come long before they need to
  gauge_disagrees,          ///< a gauge shows what the cells do not bear out
  settings_not_up_to_date,  ///< the settings on the unit are not those of the record
  paced_longer              ///< the paced hours are not those of the record
};

/// What to do next so as to tell causes apart.
enum class Step {
  swap_units,        ///< the next sets of this side in another unit
  other_lot,         ///< the next sets from another lot
  meter_at_removal,  ///< read the set with a voltmeter when it comes out
  measure_unit,      ///< the unit's current on the bench
  read_settings,     ///< the settings off the unit, against the record
  note_hours,        ///< the paced hours for a week
  ask_home           ///< what makes the home change when it does
};

struct NextStep {
  Step step = Step::read_settings;
  double bits = 0;  ///< what it is expected to tell of the cause (mutual information)
};

/// Something a technician should look at, with its evidence.
///
/// `id` stays the same while the finding is open, whatever becomes of its kind and cause: it is made of what it
/// concerns and of when its evidence was first enough. It changes only if records from before that moment do (a late
/// entry, a settled time). So a later layer may keep "seen", "taken on" and "closed, because" under it.
struct Finding {
  std::string id;
  Kind kind = Kind::step;
  std::string household;  ///< empty where it concerns several
  Scope scope = Scope::left;
  std::string subject;              ///< the unit's serial or the lot, where that is the cause
  Instant raised_at;                ///< the set came out that made the evidence enough
  std::optional<Instant> ended_at;  ///< the evidence faded then; none: open
  Instant since;                    ///< when the first set went in that it most probably touches
  double probability = 0;           ///< that something is wrong, as of the last row (or of the end)
  Size change;                      ///< ln use over what was expected, while it lasts: mean and standard error
  int sets_touched = 0, sets_before = 0, households = 1;
  double mean_before = 0;                    ///< mean log ratio of the sets of its scope before, and
  double mean_touched = 0;                   ///< of those it touches
  std::array<double, cause_count> causes{};  ///< probability of each if something is wrong; by Cause
  std::optional<Cause> named;                ///< none: cannot tell
  std::vector<NextStep> next;                ///< what would tell, most first; empty where the cause is named

  double probability_of(Cause cause) const { return causes[static_cast<std::size_t>(cause)]; }
};

/// When a finding is raised, and how it is named. Odds are those of all faults together over "nothing" and "one set
/// alone", under `Priors`, which are no more than assumptions: the odds are chosen for what they do, on seeds 1 to 9 of
/// `fault_trial` (somewhat less than one false finding in 200 healthy sets); README has what they do on others.
struct Limits {
  double raise_odds = 0.19;     ///< where sets scatter by 5 % in all, and more where they scatter more:
  double odds_grow_with = 2.1;  ///< raise_odds (noise / 0.05)^this keeps false findings as rare
  double end_odds = 0.02;
  double name_at = 0.8;               ///< a cause is named from this probability on
  double lot_prior = 0.01;            ///< that a lot is short
  double unit_prior = 0.01;           ///< that a unit draws too much
  double lot_raise_odds = 20;         ///< of lots across households
  double unit_raise_odds = 0.2;       ///< of units: channels differ by 6 % anyway, so 15 % more is never beyond doubt
  double shared_raise_over_end = 20;  ///< of both: a finding stands until its odds are so many times less
  int shared_sets = 4, shared_households = 2;  ///< so many at least: three sets do not condemn a lot

  double raise_odds_at(const Spreads& spreads) const {
    const double noise = std::hypot(spreads.set, spreads.observation_at_least, spreads.lot);
    return raise_odds * std::pow(noise / 0.05, odds_grow_with);
  }
};

struct ReviewOptions {
  Spreads spreads;
  Priors priors;
  Limits limits;
};

}  // namespace cellarer::review
