// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <string>
#include <vector>

#include "model/review/effects.hpp"
#include "model/review/hypotheses.hpp"
#include "model/review/joint_evidence.hpp"

namespace cellarer::review {

/// One way in which a lot or a unit may be at fault: its size moves the effects by so much.
struct FaultWay {
  Scope scope = Scope::both;
  JointSums::Product moves;    ///< of each effect, times the size
  JointSums::Product weights;  ///< of each effect, in the mean use that is told of it
  double share = 1;            ///< of the prior
};

/// What several homes may have in common, and what it does to their sets.
///
///   a lot    one effect: the use of its sets
///   a unit   four: the use of its left and right channel, and what their gauges show too much [points]
///
/// Effects vary naturally; a fault comes on top. A unit's channels vary independently, so that one which draws more on
/// both sides is odder than one which does on one side.
struct SharedKind {
  bool is_lot = true;
  JointSums::Square natural;
  std::vector<FaultWay> ways;

  /// The name of what a row has of this kind; empty: none.
  const std::string& name_in(const Row& row) const { return is_lot ? row.lot : row.unit; }
  /// What each effect adds to a row of this name.
  JointSums::Product loading(const Row& row) const;
};
SharedKind lots_as_shared(const Spreads& spreads);
SharedKind units_as_shared(const Spreads& spreads);

/// What one row of one household says of a lot or a unit.
struct SharedRow {
  Instant at, from;
  std::size_t household = 0;
  bool set = false;  ///< a set of it (rows after it tell too: of the side's level)
  JointSums::Product along;
  double surprise = 0;
};
using SharedRows = std::map<std::string, std::vector<SharedRow>>;

void collect(SharedRows& subjects, const SharedKind& kind, const std::vector<Row>& rows, const Whitened& whitened,
             std::size_t household);

/// The sums over all homes as their rows come in, free of natural effects.
class SharedSums {
 public:
  explicit SharedSums(const SharedKind& kind);
  void add(const SharedRow& row);
  const JointSums& total() const { return total_; }
  /// Of all homes but one.
  JointSums elsewhere(std::size_t household) const;
  bool only_in(std::size_t household) const { return homes_.size() == 1 && homes_.begin()->first == household; }
  bool is_in(std::size_t household) const { return homes_.count(household) > 0; }

 private:
  struct Home {
    JointSums whitened, free;
  };
  const SharedKind* kind_;  ///< must outlive this
  JointSums total_;
  std::map<std::size_t, Home> homes_;
};

}  // namespace cellarer::review
