// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tests/bench/peers/given_truth.hpp"
#include "tests/bench/score/equal_run_outs.hpp"
#include "tests/bench/score/frontier.hpp"
#include "tests/bench/trial/scores.hpp"

/// All that a trial found, before anything is printed.
namespace cellarer::bench {

/// A world run under one decider and scored.
struct NamedRun {
  std::string name;
  bool missed = false;  ///< changing times are missed with 5 %, the warning goes unheeded
  Scores scores;
};

/// A forecaster's curve in one sweep.
struct Curve {
  std::string name;
  Frontier frontier;         ///< over limits on the coming night alone (over days, over margins)
  Frontier forgiving;        ///< over limits of the policy, which counts a missed time; none for a rule
  FrontierPoint at_default;  ///< at the default limit; nothing for a rule
};

/// One world in which limits were swept: ours, the best possible, the rules.
struct Sweep {
  std::string name;
  double life_days = 12;
  SweepRecord record;
  Curve ours, best;
  Curve tuned_days;  ///< one N a side
  BeliefScore ours_belief, best_belief;
};

/// At how many run-outs per side-night forecasters are compared.
inline constexpr double run_outs_in_question = 5e-6;
/// So few are not counted in any trial of minutes; at this rate they are.
inline constexpr double run_outs_to_count = 6e-4;

/// The gap between ours and the best possible, split: both are given the truth of one thing at a time, in one run.
struct Split {
  std::string name;
  struct Row {
    GivenTruth given = GivenTruth::none;
    double ours_waste, best_waste;    ///< at equal run-outs, by the risk that the best possible with that truth states
    double ours_crps_h, best_crps_h;  ///< of the same evenings
    double ours_default_waste, best_default_waste;
  };
  std::vector<Row> rows;  ///< the first with nothing given
  EqualRunOuts counted;   ///< ours over the best possible, nothing given: many run out here, so they can be counted
};

struct TrialResults {
  std::vector<NamedRun> reference;     ///< percent and five steps, kept and missed
  std::vector<NamedRun> other_gauges;  ///< the reference world with gauges of 3 and 10 steps
  std::vector<Sweep> sweeps;  ///< 12 days with percent and with five steps, then 7 and 20 days, then specimens doubled
  std::vector<Split> splits;  ///< percent and five steps
  Curve one_n_for_all;        ///< over the sweeps of 7, 12 and 20 days
  std::vector<NamedRun> field;
  std::vector<NamedRun> rules;  ///< an oracle and rules, in homes of the reference runs in which times are kept
  std::vector<NamedRun> plans;  ///< ours where pacing is longer than planned, on record and not
  double seconds = 0;
};

}  // namespace cellarer::bench
