// SPDX-License-Identifier: MIT
#include "tests/bench/report/print.hpp"

#include <ostream>

#include "tests/bench/report/curve_picture.hpp"
#include "tests/bench/report/print_runs.hpp"
#include "tests/bench/report/table.hpp"

namespace cellarer::bench {

namespace {

void print_coverage(std::ostream& out, const std::string& title, const std::map<std::string, Coverage>& slices) {
  out << '\n' << title << "\n\n";
  Table table({"slice", "50 %", "80 %", "90 %", "98 %", "mean PIT", "evenings", "sets"});
  for (const auto& [name, coverage] : slices) {
    std::vector<std::string> row{name};
    for (std::size_t level = 0; level < Coverage::levels.size(); ++level) row.push_back(percent(coverage.share(level)));
    row.push_back(number(coverage.mean_pit(), 3));
    row.push_back(whole(coverage.evenings()));
    row.push_back(whole(coverage.sets()) + (coverage.sets() < sets_for_a_verdict ? " (few)" : ""));
    table.add(std::move(row));
  }
  table.print(out);
}

void print_reliability(std::ostream& out, const Sweep& sweep, bool later) {
  out << (later ? "\nThe risk of each night from the second to the seventh ahead" : "\nThe risk of the coming night")
      << " as said, against how often cut-off came in it (" << sweep.name << ")\n\n";
  Table table({"said", "ours: nights", "expected", "came", "best possible: nights", "expected", "came"});
  for (int bin = 0; bin < reliability_bins; ++bin) {
    std::vector<std::string> row{reliability_bin_name(bin)};
    for (const auto* belief : {&sweep.ours_belief, &sweep.best_belief}) {
      const auto& bins = later ? belief->later_reliability() : belief->reliability();
      const auto& one = bins[static_cast<std::size_t>(bin)];
      row.insert(row.end(), {whole(one.nights), brief(one.said), whole(one.came)});
    }
    table.add(std::move(row));
  }
  table.print(out);
}

std::string wasted_at(const Frontier& frontier, double per_million) {
  return percent(waste_at(frontier, 1e-6 * per_million));
}

void print_sweep(std::ostream& out, const Sweep& sweep) {
  out << "\nWaste against run-outs: " << sweep.name << " (" << sweep.record.sets().size() << " sets)\n\n";
  Table table(
      {"forecaster", "default: wasted", "per million", "5 % missed", "at 0.1", "at 1", "at 5", "at 50", "50 missed"});
  const auto add = [&](const Curve& curve, bool has_default) {
    const auto& point = curve.at_default;
    table.add({curve.name, has_default ? percent(point.waste) : "-",
               has_default ? brief(1e6 * point.run_outs_kept) : "-",
               has_default ? brief(1e6 * point.run_outs_missed) : "-", wasted_at(curve.frontier, 0.1),
               wasted_at(curve.frontier, 1), wasted_at(curve.frontier, 5), wasted_at(curve.frontier, 50),
               percent(waste_at(curve.forgiving, 50e-6, Times::missed))});
  };
  add(sweep.ours, true);
  add(sweep.best, true);
  add(sweep.tuned_days, false);
  table.print(out);
  const auto &ours = sweep.ours_belief, &best = sweep.best_belief;
  out << "  CRPS " << number(ours.mean_crps_h(), 2) << " h, best possible " << number(best.mean_crps_h(), 2)
      << " h, over " << ours.crps_count() << " evenings\n";
}

/// How far ours is from the best possible, and how far it would be if both were told the truth of one thing: what a
/// thing that is told to both makes smaller is what ours knows less well than can be known.
void print_split(std::ostream& out, const Split& split) {
  out << "\nThe gap to the best possible, split: " << split.name << ". Both are told of each set\n\n";
  Table table({"told", "default: ours", "best", "over it", "waste at 5 accepted per million: ours", "best", "over it",
               "CRPS: ours", "best", "over it"});
  for (const auto& row : split.rows) {
    table.add({name_of(row.given), percent(row.ours_default_waste), percent(row.best_default_waste),
               number(row.ours_default_waste / row.best_default_waste, 3), percent(row.ours_waste),
               percent(row.best_waste), number(row.ours_waste / row.best_waste, 3), number(row.ours_crps_h, 2) + " h",
               number(row.best_crps_h, 2) + " h", number(row.ours_crps_h / row.best_crps_h, 3)});
  }
  table.print(out);
  const auto& many = split.counted;
  out << "  Told nothing, at " << number(1e6 * many.per_side_night, 0) << " run-outs per million, some "
      << number(many.run_outs_expected, 0) << " in these nights: waste over the best possible's "
      << number(many.counted, 3) << " as counted, standard error " << number(many.counted_error, 3) << ", and "
      << number(many.by_accepted_risk, 3)
      << " by accepted risk.\n  Sets that are in when the run itself changes them (the best possible sees a risk of 1 "
         "in 10)"
         " come out then for both.\n  No plans here: nothing departs from what is planned in the reference world, so a"
         " plan's share of this gap is nothing.\n";
}

void print_limits(std::ostream& out, const Sweep& sweep) {
  const Curve &ours = sweep.ours, &best = sweep.best;
  out << "\nThe sweep of the limit: " << sweep.name << ". On the coming night alone, and counting a missed time:\n\n";
  Table table({"limit", "ours: wasted", "per million", "best: wasted", "per million", "counting: ours", "5 % missed",
               "best", "5 % missed"});
  for (std::size_t i = 0; i < ours.frontier.size(); ++i) {
    const auto &a = ours.frontier[i], &b = best.frontier[i], &c = ours.forgiving[i], &d = best.forgiving[i];
    table.add({brief(a.setting), percent(a.waste), brief(1e6 * a.run_outs_kept), percent(b.waste),
               brief(1e6 * b.run_outs_kept), percent(c.waste), brief(1e6 * c.run_outs_missed), percent(d.waste),
               brief(1e6 * d.run_outs_missed)});
  }
  table.print(out);
}

/// N is a whole number: until the next one is safe enough, this one's waste stays.
PictureCurve in_steps(PictureCurve curve) {
  auto points = std::move(curve.points);
  curve.points.clear();
  for (std::size_t i = 0; i < points.size(); ++i) {
    curve.points.push_back(points[i]);
    if (i + 1 < points.size()) curve.points.emplace_back(points[i + 1].first, points[i].second);
  }
  return curve;
}

PictureCurve drawn(const Curve& curve, PictureCurve::Ink ink) {
  PictureCurve drawn{curve.name, ink, {}};
  for (const auto& point : curve.frontier) drawn.points.emplace_back(1e6 * point.run_outs_kept, point.waste);
  return drawn;
}

}  // namespace

void print_targets(std::ostream& out, const std::vector<TargetRow>& rows) {
  Table table({"to reach", "target", "result", "verdict", "beside it"});
  for (const auto& row : rows) table.add({row.what, row.target, row.result, row.verdict(), row.beside});
  table.print(out);
}

void print_details(std::ostream& out, const TrialResults& results) {
  print_runs(out, "Reference world, default policy", results.reference);
  print_causes(out, "Why sets came out", results.reference);
  print_runs(
      out,
      "An oracle, and rules without a forecast: the first homes of the reference runs in which times are kept. The "
      "warning goes\nunheeded as there, except where it is all that a side is changed by",
      results.rules);
  for (const auto& sweep : results.sweeps) print_sweep(out, sweep);
  for (const auto& split : results.splits) print_split(out, split);
  print_plans(out, results.plans);
  print_limits(out, results.sweeps[0]);
  print_limits(out, results.sweeps[1]);
  out << "\nOne N for all, sets of 7, 12 and 20 days together\n\n";
  Table days({"N", "wasted", "run-outs per million"});
  for (const auto& point : results.one_n_for_all.frontier) {
    days.add({number(point.setting, 0), percent(point.waste), brief(1e6 * point.run_outs_kept)});
  }
  days.print(out);
  print_coverage(out, "Coverage of central intervals, reference world", slices_of(results.reference));
  print_coverage(out, "Coverage, reference world with other gauges", slices_of(results.other_gauges));
  print_coverage(out, "Coverage, " + results.sweeps.back().name, results.sweeps.back().ours_belief.coverage());
  print_coverage(out, "Coverage, field world", slices_of(results.field));
  for (const bool later : {false, true}) {
    print_reliability(out, results.sweeps[0], later);
    print_reliability(out, results.sweeps[1], later);
  }
  print_runs(out, "Field world, default policy", results.field);
  print_causes(out, "Why sets came out in the field world", results.field);
}

std::string picture_of(const TrialResults& results) {
  std::vector<PicturePanel> panels;
  for (const std::size_t i : {2U, 0U, 3U}) {
    const auto& sweep = results.sweeps[i];
    PicturePanel panel{"Sets of " + number(sweep.life_days, 0) + " days", {}};
    panel.curves.push_back(in_steps(drawn(results.one_n_for_all, PictureCurve::Ink::peer)));
    panel.curves.push_back(drawn(sweep.tuned_days, PictureCurve::Ink::peer));
    panel.curves.push_back(drawn(sweep.ours, PictureCurve::Ink::ours));
    panel.curves.push_back(drawn(sweep.best, PictureCurve::Ink::best));
    panels.push_back(std::move(panel));
  }
  return curve_picture("Charge thrown away against nights on which a side ran out", panels);
}

}  // namespace cellarer::bench
