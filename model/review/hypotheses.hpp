// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/review/effects.hpp"
#include "model/review/evidence.hpp"

namespace cellarer::review {

/// Where more use than expected may come from.
enum class Cause {
  settings,  ///< what is set on the unit draws more than what is recorded
  cells,     ///< the cells hold less than their type does, one lot of them
  unit,      ///< the unit draws more than its model
  habit,     ///< paced for longer than recorded: both sides alike
  gauge,     ///< the gauge shows less than there is: no more is used at all
  timing     ///< the home takes the cells out before it needs to: of changes that come too early alone
};
inline constexpr std::size_t cause_count = 6;

/// How it shows in time.
enum class Shape {
  step,    ///< from one set to the next
  drift,   ///< growing from a set on
  level,   ///< from the first set: a side that never was as expected
  one_set  ///< one set alone (a dud, a misreading): nothing to act on, and no finding
};

enum class Scope { left, right, both };

/// One explicit story of what happened: it adds `size` times `pattern` to the household's rows.
///
///     cause     rows it touches, from its start on                     checks that would show it
///     settings  the side's (or both sides'), whatever unit and lot     settings_read
///     cells     those of the lot, on both sides and in other homes     -
///     unit      those in that unit, one channel or both                bench_current
///     habit     both sides' alike                                      hours_noted
///     gauge     those read by that unit's gauge, as far as they feel it
///
/// Sizes are of log use (of the gauge: points), more than expected nineteen times as probable as less: a drain
/// has many causes, a gain few. A drift is the growth in 90 days.
struct Hypothesis {
  Cause cause = Cause::settings;
  Shape shape = Shape::step;
  Scope scope = Scope::left;
  std::string subject;  ///< the unit's serial or the lot; empty where neither
  Eigen::Index start = 0;
  Size size;
  double log_prior = 0;
  Eigen::VectorXd pattern;
};

/// Before any data. Assumptions, no source; `per_set` is tuned by the bench only through the odds at which a finding is
/// raised (finding.hpp).
struct Priors {
  double per_set = 0.004;     ///< that a lasting fault begins with a given set
  double one_set = 0.003;     ///< that a given set alone is off
  double level = 0.002;       ///< that a side is off from the first set
  double not_set = 0.05;      ///< that a recorded change of settings was not carried out, or not as recorded
  double more = 0.95;         ///< that a fault shows as more use, not less
  Size fault{0.12, 0.05};     ///< of log use; mirrored for less
  Size bias{8, 4};            ///< of a gauge that shows too little [points]
  Size level_size{0.3, 0.1};  ///< of log use
  /// Of the fault of a lot or unit, for saying how large it is: wide, so that the range which is told is where the data
  /// are, not where faults usually are. Whether there is a fault is judged by `fault`.
  Size shared_size{0.12, 0.15};
};

/// All stories about these rows. `records` are those that the rows were made from.
std::vector<Hypothesis> hypotheses(const std::vector<Row>& rows, const std::vector<SetRecord>& records,
                                   const Priors& priors);

bool in_scope(Side side, Scope scope);

}  // namespace cellarer::review
