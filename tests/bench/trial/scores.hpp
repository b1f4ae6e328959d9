// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tests/bench/score/belief_score.hpp"
#include "tests/bench/score/run_tally.hpp"
#include "tests/bench/score/sweep_record.hpp"

namespace cellarer::bench {

/// What is to be scored in one run.
struct ScoreAsked {
  std::string gauge;                 ///< name of the run's gauge, for the slices
  std::vector<std::size_t> beliefs;  ///< forecasters whose beliefs are scored, by index
  BeliefScore::Sampling sampling;
  std::size_t swept = 0;  ///< forecasters of a sweep record; none is kept for nought
};

/// All scores of one run; those of parts of its households merge into those of the whole, in order.
class Scores : public Observer {
 public:
  explicit Scores(const ScoreAsked& asked) {
    for (const auto forecaster : asked.beliefs) beliefs.emplace_back(forecaster, asked.gauge, asked.sampling);
    if (asked.swept > 0) sweep.emplace(asked.swept);
  }

  RunTally tally;
  std::vector<BeliefScore> beliefs;
  std::optional<SweepRecord> sweep;

  void evening(const Evening& evening) override {
    tally.evening(evening);
    for (auto& belief : beliefs) belief.evening(evening);
    if (sweep) sweep->evening(evening);
  }
  void set_ended(const SetEnded& set) override {
    tally.set_ended(set);
    if (sweep) sweep->set_ended(set);
  }
  void warned(const Warned& warned) override { tally.warned(warned); }

  void merge(const Scores& other) {
    tally.merge(other.tally);
    for (std::size_t i = 0; i < beliefs.size(); ++i) beliefs[i].merge(other.beliefs[i]);
    if (sweep) sweep->append(*other.sweep);
  }
};

}  // namespace cellarer::bench
