// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <optional>

#include "model/life/learning.hpp"
#include "model/life/set_posterior.hpp"
#include "model/life/stint.hpp"

namespace cellarer::life {

/// Which cells a stint holds, as far as the forecast is concerned.
struct CellsInSide {
  const cell::Profile* profile = nullptr;  ///< null: no forecast
  bool type_unknown = false;               ///< the stand-in serves
  std::string why_not;                     ///< with null: one sentence
};
CellsInSide cells_in_side(const Household& household, const CellSet& cells);

/// The share of its capacity that a fresh set has left after storage, judged by its expiry: 2 % a year since an assumed
/// making ten years before expiry (usual on data sheets: 10 years to 80 % or better), at most 12 years of it.
/// An expiry that nobody noted is taken as cells three years old, give or take a year and a half.
struct Storage {
  double share;   ///< of the capacity that is left
  double log_sd;  ///< how uncertain that is
  bool expired;
};
Storage storage(const std::optional<std::chrono::year_month>& expires, Instant at);

/// What the readings of one set, taken in one after the other, come to.
struct SetStory {
  CrossingDistribution cutoff, warning;  ///< in reference charge since the set went in
  UsePrior prior;
  UseMoments moments;  ///< of the set's use and its channel's bias
  std::shared_ptr<const SetPosterior> posterior;
  std::optional<Reading> unanswered_high;  ///< the newest reading is above the 95 % range: left out until a second one
  std::optional<Instant> low;              ///< the newest reading below the 95 % range, acted on
  double perhaps_changed = 0;              ///< probability that a change went unrecorded
  bool agrees = true;                      ///< readings tell one story, so the set may teach
  std::optional<Instant> warned_at, stopped_at;
  int readings_used = 0;
};

struct SetStorySetup {
  const Course* course = nullptr;
  const cell::Profile* cell = nullptr;
  UsePrior prior;
  GridSize grid;
  double carried_mAh = 0;    ///< reference charge that this very set gave in earlier stints
  bool lesson_only = false;  ///< for an ended set: only what it teaches, no distributions, no second opinions
};

/// Reference charge [mAh] that the set of this stint gave before, where it carries a name and was in before, in either
/// side: a set keeps its state when it is taken out, put back or moved.
double carried_charge_mAh(const Household& household, Instant as_of, const Stint& stint);

/// Follows one stint. Against the forecast, by the worse of the two:
///   - a reading above the 95 % range is set aside; a second one brings both in, with the hypothesis (2 %) that a
///   change
///     went unrecorded between the last reading that fitted and the first that did not;
///   - a reading below the range is taken in, and the depth is also judged from that reading on alone, as of a set of
///     unknown age; whichever runs out earlier counts.
SetStory follow(const SetStorySetup& setup, const Stint& stint);

}  // namespace cellarer::life
