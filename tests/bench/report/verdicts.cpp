// SPDX-License-Identifier: MIT
#include "tests/bench/report/verdicts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/bench/report/table.hpp"

namespace cellarer::bench {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

/// Waste of ours at five per million, averaged over sweeps.
double mean_at_five(const std::vector<const Sweep*>& sweeps) {
  double sum = 0;
  for (const auto* sweep : sweeps) sum += at_five(sweep->ours);
  return sum / static_cast<double>(sweeps.size());
}

struct Range {
  double min = none, max = none;
};

Range range_of(const std::map<std::string, Coverage>& slices) {
  Range range;
  for (const auto& [name, coverage] : slices) {
    if (coverage.sets() < sets_for_a_verdict) continue;
    const double share = coverage.share(Coverage::ninety);
    range.min = std::fmin(range.min, share);
    range.max = std::fmax(range.max, share);
  }
  return range;
}

/// The runs of the reference world in which times are kept, or missed, as one.
RunTally tally_of(const TrialResults& results, bool missed) {
  RunTally tally;
  for (const auto& run : results.reference) {
    if (run.missed == missed) tally.merge(run.scores.tally);
  }
  return tally;
}

void count(Figures& figures, const TrialResults& results) {
  const auto kept = tally_of(results, false), missed = tally_of(results, true);
  figures.side_nights_kept = kept.side_nights();
  figures.side_nights_missed = missed.side_nights();
  figures.run_outs_per_million_kept = kept.run_outs_per_million_side_nights();
  figures.run_outs_per_million_missed = missed.run_outs_per_million_side_nights();
  figures.bound_kept = kept.bound_per_million_side_nights();
  figures.bound_missed = missed.bound_per_million_side_nights();
  figures.warnings_per_thousand = kept.warnings_per_thousand_side_nights();
  figures.warnings_per_wearer_year = kept.warnings_per_wearer_year();
  figures.waste_percent_gauge = results.reference[0].scores.tally.charge_wasted();
  figures.waste_five_steps = results.reference[1].scores.tally.charge_wasted();
}

void compare(Figures& figures, const TrialResults& results) {
  const auto &percent = results.sweeps[0], &steps = results.sweeps[1];
  figures.accepted_per_million_kept =
      5e5 * (percent.ours.at_default.run_outs_kept + steps.ours.at_default.run_outs_kept);
  figures.accepted_per_million_missed =
      5e5 * (percent.ours.at_default.run_outs_missed + steps.ours.at_default.run_outs_missed);
  figures.frontier_percent_gauge = at_five(percent.ours);
  figures.frontier_five_steps = at_five(steps.ours);
  figures.best_frontier_percent_gauge = at_five(percent.best);
  figures.best_frontier_five_steps = at_five(steps.best);
  figures.best_waste_percent_gauge = percent.best.at_default.waste;
  figures.best_waste_five_steps = steps.best.at_default.waste;
  figures.over_best = std::max(figures.frontier_percent_gauge / figures.best_frontier_percent_gauge,
                               figures.frontier_five_steps / figures.best_frontier_five_steps);
  const auto &a = results.splits[0].counted, &b = results.splits[1].counted;
  figures.over_best_many = a.counted > b.counted ? a : b;
  // N is a whole number: the largest that runs out no more often.
  figures.one_n = none;
  for (const auto& point : results.one_n_for_all.frontier) {
    if (point.run_outs_kept <= run_outs_in_question) figures.one_n = point.waste;
  }
  figures.over_one_n = mean_at_five({&percent, &results.sweeps[2], &results.sweeps[3]}) / figures.one_n;
  figures.one_n_a_side = at_five(percent.tuned_days);
  figures.over_one_n_a_side = figures.frontier_percent_gauge / figures.one_n_a_side;
  double ours_h = 0, best_h = 0;
  for (const auto* sweep : {&percent, &steps}) {
    ours_h += sweep->ours_belief.mean_crps_h();
    best_h += sweep->best_belief.mean_crps_h();
  }
  figures.crps_over_best = ours_h / best_h;
}

}  // namespace

double at_five(const Curve& curve) { return waste_at(curve.frontier, run_outs_in_question); }

std::map<std::string, Coverage> slices_of(const std::vector<NamedRun>& runs) {
  std::map<std::string, Coverage> slices;
  for (const auto& run : runs) {
    for (const auto& belief : run.scores.beliefs) {
      for (const auto& [name, coverage] : belief.coverage()) slices[name].merge(coverage);
    }
  }
  return slices;
}

Figures figures_of(const TrialResults& results) {
  Figures figures;
  count(figures, results);
  compare(figures, results);
  auto slices = slices_of(results.reference);
  for (const auto& [name, coverage] : slices_of(results.other_gauges)) {
    // Of the worlds with other gauges only the slice of the gauge counts: they are few households.
    if (name.starts_with("gauge: ")) slices[name].merge(coverage);
  }
  const auto reference = range_of(slices), field = range_of(slices_of(results.field));
  figures.coverage90_min = reference.min;
  figures.coverage90_max = reference.max;
  figures.field_coverage90_min = field.min;
  figures.field_coverage90_max = field.max;
  const auto doubled = range_of(results.sweeps.back().ours_belief.coverage());
  figures.doubled_coverage90_min = doubled.min;
  figures.doubled_coverage90_max = doubled.max;
  return figures;
}

std::vector<TargetRow> targets_of(const Figures& f) {
  std::vector<TargetRow> rows;
  rows.push_back({"charge wasted, percent gauge / 5 steps", "at most 20 / 22 %",
                  percents(f.waste_percent_gauge, f.waste_five_steps),
                  "best possible " + percents(f.best_waste_percent_gauge, f.best_waste_five_steps),
                  f.waste_percent_gauge <= 0.20 && f.waste_five_steps <= 0.22});
  rows.push_back({"run-outs per million side-nights, times kept", "at most 1", brief(f.run_outs_per_million_kept),
                  "95 % bound " + brief(f.bound_kept) + " over " + number(f.side_nights_kept / 1e6, 2) +
                      " million; accepted in the sweeps' homes " + brief(f.accepted_per_million_kept),
                  f.run_outs_per_million_kept <= 1, f.side_nights_kept >= side_nights_for_a_verdict});
  rows.push_back({"the same, 5 % missed and the warning unheeded", "at most 50", brief(f.run_outs_per_million_missed),
                  "95 % bound " + brief(f.bound_missed) + " over " + number(f.side_nights_missed / 1e6, 2) +
                      " million; accepted in the sweeps' homes " + brief(f.accepted_per_million_missed),
                  f.run_outs_per_million_missed <= 50, f.side_nights_missed >= side_nights_for_a_verdict});
  rows.push_back({"waste at 5 accepted run-outs per million, percent gauge / 5 steps", "at most 17 / 18 %",
                  percents(f.frontier_percent_gauge, f.frontier_five_steps),
                  "best possible " + percents(f.best_frontier_percent_gauge, f.best_frontier_five_steps),
                  f.frontier_percent_gauge <= 0.17 && f.frontier_five_steps <= 0.18});
  rows.push_back({"waste at equal accepted risk, over the best possible", "at most 1.10", number(f.over_best, 3),
                  "the worse gauge, at 5 per million", f.over_best <= 1.10});
  const auto& many = f.over_best_many;
  rows.push_back({"waste at equal counted run-outs, over the best possible", "at most 1.10", number(many.counted, 3),
                  "the worse gauge, at " + number(1e6 * many.per_side_night, 0) + " per million (some " +
                      number(many.run_outs_expected, 0) + "), standard error " + number(many.counted_error, 3) +
                      "; there by accepted risk " + number(many.by_accepted_risk, 3),
                  many.counted <= 1.10, many.run_outs_expected >= run_outs_for_a_verdict});
  rows.push_back({"waste at equal accepted risk, over one N for all", "at most 0.333", number(f.over_one_n, 3),
                  "one N wastes " + percent(f.one_n) + ", sets of 7, 12, 20 days", f.over_one_n <= 1.0 / 3});
  rows.push_back({"waste at equal accepted risk, over one N a side", "at most 0.9", number(f.over_one_n_a_side, 3),
                  "one N a side wastes " + percent(f.one_n_a_side), f.over_one_n_a_side <= 0.9});
  rows.push_back({"warnings between changing times per 1000 side-nights", "at most 1",
                  number(f.warnings_per_thousand, 2), number(f.warnings_per_wearer_year, 2) + " a wearer and year",
                  f.warnings_per_thousand <= 1});
  rows.push_back({"coverage of 90 % intervals, lowest / highest slice", "88 to 92 %",
                  percents(f.coverage90_min, f.coverage90_max), "slices of at least 2000 sets",
                  f.coverage90_min >= 0.88 && f.coverage90_max <= 0.92, std::isfinite(f.coverage90_min)});
  rows.push_back({"coverage where specimens are twice as far apart, lowest / highest slice", "",
                  percents(f.doubled_coverage90_min, f.doubled_coverage90_max), "percent gauge, the sweep's homes"});
  rows.push_back({"CRPS, over the best possible", "at most 1.05", number(f.crps_over_best, 3), "the same evenings",
                  f.crps_over_best <= 1.05});
  return rows;
}

}  // namespace cellarer::bench
