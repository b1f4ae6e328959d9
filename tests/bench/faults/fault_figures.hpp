// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "model/review/agency_review.hpp"
#include "tests/bench/faults/simulated_history.hpp"

namespace cellarer::bench {

/// Of so many tried, in so many it was so.
struct Share {
  int hits = 0, tried = 0;
  double value() const { return tried > 0 ? static_cast<double>(hits) / tried : 0; }
};

/// One set noise: how soon use up 10 % is found, and what healthy sets give.
struct DetectionFigures {
  double set_sd = 0;
  Share within_4, within_8;  ///< homes in which a finding of that side was raised within so many sets
  Share false_findings;      ///< of any kind, over healthy sets
  int open_before = 0;       ///< homes left out: a (false) finding of that side stood when the fault began
};

/// One scenario of causes: what was named where something was found.
struct CauseFigures {
  std::string scenario;
  bool evidence_allows = true;
  Share right, cannot_tell;  ///< of the homes in which it was found
  int homes = 0;
};

struct FaultFigures {
  DetectionFigures four_percent, six_percent;
  Share lots_found, false_lots;  ///< over lots
  /// Of the lots found, those whose true shortness is within the range that is said of it (90 %): 12 and 20 % short.
  Share range_of_12, range_of_20;
  std::vector<CauseFigures> causes;
  Share named_right, told_cannot;  ///< where evidence allows: named and right; where not: "cannot tell"
  Share right_of_named;            ///< of all that was named anywhere
};

struct FaultTrialSize {
  std::uint64_t seed = 11;
  int homes = 1000;            ///< of each row; scenarios of causes have a quarter of it each
  review::Limits limits = {};  ///< of the review that is tried
};

/// Called with so many reviews done since the last call.
using Done = std::function<void(double)>;

/// Reviews that a trial of this size makes.
double work_of(const FaultTrialSize& size);

/// The trial. The review is given the set spread that it would estimate itself from healthy sides of the agency
/// (pooled_set_spread), never the truth.
FaultFigures try_faults(const FaultTrialSize& size, const Done& done);

/// One row of the table of targets.
struct FaultRow {
  enum class Aim { at_least, at_most, about };
  std::string what, target, found;
  bool met = false;
  bool enough = true;  ///< tried often enough for a verdict
  Aim aim = Aim::at_least;
  double bound = 0;
  Share share;
};
std::vector<FaultRow> rows_of(const FaultFigures& figures);

/// Whether a short trial bears the target out: were the truth just what is to be reached, so poor a count, or a poorer
/// one, would come about with this probability or more (binomial). False where nothing was counted.
bool borne_out(const Share& share, FaultRow::Aim aim, double bound, double probability = 1e-3);

}  // namespace cellarer::bench
