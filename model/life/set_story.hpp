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

/// The charges by which it is crossed with these probabilities.
Quantiles<double> quantiles(const CrossingDistribution& crossing);

/// What the readings of one set, taken in one after the other, come to.
struct SetStory {
  CrossingDistribution cutoff, warning;       ///< in reference charge since the set went in
  Quantiles<double> cutoff_mAh, warning_mAh;  ///< of the same; while the set is in
  SetPrior prior;
  SetLesson lesson;  ///< of the set's use, its channel's bias and its offset
  std::shared_ptr<const SetPosterior> posterior;
  std::optional<Reading> unanswered_high;  ///< the newest reading is above the 95 % range: left out until a second one
  std::optional<Instant> low;              ///< the newest reading below the 95 % range, acted on
  double perhaps_changed = 0;              ///< probability that a change went unrecorded
  bool agrees = true;                      ///< readings tell one story, so the set may teach
  bool far_below = false;                  ///< a reading was far below the range: it may teach that more is used only
  std::optional<Instant> warned_at, stopped_at;
  int readings_used = 0;
};

struct SetStorySetup {
  const Course* course = nullptr;  ///< must outlive the walk
  const cell::Profile* cell = nullptr;
  LoadTables* tables = nullptr;  ///< where tables made before are found; none: made anew
  SetPrior prior;
  GridSize grid;
  double carried_mAh = 0;  ///< reference charge that this very set gave in earlier stints
};

/// Reference charge [mAh] that the set of this stint gave before, where it carries a name and was in before, in either
/// side: a set keeps its state when it is taken out, put back or moved.
double carried_charge_mAh(const Household& household, Instant as_of, const Stint& stint);

/// One set followed through its readings, moved forward by what is new. Against the forecast, by the worse of the two:
///   - a reading above the 95 % range is set aside; a second one, six hours later or more, brings both in, with the
///     hypothesis (2 %) that a change went unrecorded between the last reading that fitted and the first that did not;
///   - a reading below the range is taken in as no mistake; one that is below all but a thousandth of what was expected
///     also has the depth judged from that reading on alone, as of a set of unknown age; whichever runs out earlier
///     counts.
class SetWalk {
 public:
  /// `in`: the change that brought the set.
  SetWalk(const SetStorySetup& setup, const CellChange& in);

  void take(const Reading& reading);  ///< by time: never older than the one before
  /// When the set runs out, as things stand.
  CrossingDistribution cutoff() const;
  /// The whole, while the set is in.
  SetStory story() const;

  /// Whether no second opinion is open: of an unrecorded change, of an unknown depth.
  bool is_of_one_mind() const { return !changed_ && !low_; }
  /// From now on with a course, cells and tables that say of all that was taken so far what those before said, which
  /// may be gone. Precondition: is_of_one_mind().
  void go_on_with(const SetStorySetup& setup);

  /// The set has come out; nothing may be asked of the walk afterwards but what it returns.
  SetStory ended(const CellChange& out);

 private:
  SetStorySetup setup_;
  CellChange in_;
  std::shared_ptr<SetPosterior> main_;
  std::shared_ptr<const Course> changed_course_, low_course_;
  std::shared_ptr<SetPosterior> changed_, low_;  ///< the hypotheses "a change went unrecorded", "depth unknown since"
  double evidence_at_jump_ = 0;
  std::optional<Observation> waiting_;  ///< a high reading that waits for a second one
  Instant sighted_;                     ///< when a reading that fitted last showed the side to run
  SetStory story_;

  SetPosterior::Setup main_setup() const;
  std::shared_ptr<SetPosterior> branch(const Course& course, StartDepth start) const;
  void take(const Reading& reading, const Observation& observation);
  void take_in(const Observation& observation, bool trusted);
  void open_changed_branch();
  void open_low_branch(const Observation& observation);
  void seen_to_run(Instant at);
  double perhaps_changed() const;
  enum class Crossed { cutoff, warning };
  CrossingDistribution crossing(Crossed what) const;
};

/// One stint from its change to its end, or to now.
SetStory follow(const SetStorySetup& setup, const Stint& stint);

}  // namespace cellarer::life
