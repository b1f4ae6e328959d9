// SPDX-License-Identifier: MIT
#include "tests/bench/report/json_report.hpp"

namespace cellarer::bench {

namespace {

using Json = nlohmann::ordered_json;

Json curve_document(const Curve& curve) {
  Json points = Json::array();
  for (const auto& point : curve.frontier) {
    points.push_back({{"setting", point.setting},
                      {"waste", point.waste},
                      {"run_outs_per_million_kept", 1e6 * point.run_outs_kept},
                      {"run_outs_per_million_missed", 1e6 * point.run_outs_missed},
                      {"sets", point.sets}});
  }
  return {{"name", curve.name}, {"points", std::move(points)}};
}

Json reliability_document(const Reliability& reliability) {
  Json bins = Json::array();
  for (int bin = 0; bin < reliability_bins; ++bin) {
    const auto& one = reliability[static_cast<std::size_t>(bin)];
    bins.push_back(
        {{"said", reliability_bin_name(bin)}, {"nights", one.nights}, {"expected", one.said}, {"came", one.came}});
  }
  return bins;
}

Json reliability_document(const BeliefScore& belief) {
  return {{"coming_night", reliability_document(belief.reliability())},
          {"nights_2_to_7", reliability_document(belief.later_reliability())}};
}

Json run_document(const NamedRun& run) {
  const auto& tally = run.scores.tally;
  Json document{{"name", run.name},
                {"side_nights", tally.side_nights()},
                {"waste", tally.charge_wasted()},
                {"sets_per_wearer_year", tally.sets_per_wearer_year()},
                {"run_outs_per_million", tally.run_outs_per_million_side_nights()},
                {"run_outs_per_million_bound95", tally.bound_per_million_side_nights()},
                {"warnings_per_thousand_side_nights", tally.warnings_per_thousand_side_nights()}};
  if (!run.scores.beliefs.empty() && run.scores.beliefs.front().crps_count() > 0)
    document["crps_h"] = run.scores.beliefs.front().mean_crps_h();
  for (std::size_t i = 0; i < set_end_count; ++i) {
    const auto end = static_cast<SetEnd>(i);
    if (is_stop(end))
      document["causes"].push_back({{"cause", name_of(end)},
                                    {"count", tally.ended(end)},
                                    {"per_million_bound95", tally.bound_per_million_side_nights(end)}});
  }
  return document;
}

Json runs_document(const std::vector<NamedRun>& runs) {
  Json documents = Json::array();
  for (const auto& run : runs) {
    documents.push_back(run_document(run));
    documents.back()["missed"] = run.missed;
  }
  return documents;
}

Json equal_run_outs_document(const EqualRunOuts& many) {
  return {{"run_outs_per_million", 1e6 * many.per_side_night},
          {"run_outs_in_these_nights", many.run_outs_expected},
          {"over_best_counted", many.counted},
          {"over_best_counted_standard_error", many.counted_error},
          {"over_best_accepted", many.by_accepted_risk}};
}

Json sweep_document(const Sweep& sweep) {
  Json curves = Json::array();
  for (const auto* curve : {&sweep.ours, &sweep.best, &sweep.tuned_days}) curves.push_back(curve_document(*curve));
  return {{"world", sweep.name},
          {"crps_h", sweep.ours_belief.mean_crps_h()},
          {"crps_h_best", sweep.best_belief.mean_crps_h()},
          {"reliability", reliability_document(sweep.ours_belief)},
          {"reliability_best", reliability_document(sweep.best_belief)},
          {"curves", std::move(curves)}};
}

Json split_document(const Split& split) {
  Json rows = Json::array();
  for (const auto& row : split.rows) {
    rows.push_back({{"given", name_of(row.given)},
                    {"waste_at_5_per_million", row.ours_waste},
                    {"waste_at_5_per_million_best", row.best_waste},
                    {"crps_h", row.ours_crps_h},
                    {"crps_h_best", row.best_crps_h},
                    {"default_waste", row.ours_default_waste},
                    {"default_waste_best", row.best_default_waste}});
  }
  return {{"world", split.name}, {"equal_run_outs", equal_run_outs_document(split.counted)}, {"rows", std::move(rows)}};
}

}  // namespace

Json json_of(const TrialResults& results, const Figures& f) {
  Json document;
  document["reference_world"] = {{"waste_percent_gauge", f.waste_percent_gauge},
                                 {"waste_five_steps", f.waste_five_steps},
                                 {"run_outs_per_million_kept", f.run_outs_per_million_kept},
                                 {"run_outs_per_million_missed", f.run_outs_per_million_missed},
                                 {"run_outs_per_million_kept_bound95", f.bound_kept},
                                 {"run_outs_per_million_missed_bound95", f.bound_missed},
                                 {"side_nights_kept", f.side_nights_kept},
                                 {"side_nights_missed", f.side_nights_missed},
                                 {"accepted_per_million_kept", f.accepted_per_million_kept},
                                 {"accepted_per_million_missed", f.accepted_per_million_missed},
                                 {"warnings_per_thousand_side_nights", f.warnings_per_thousand},
                                 {"warnings_per_wearer_year", f.warnings_per_wearer_year}};
  document["coverage90"] = {{"min", f.coverage90_min}, {"max", f.coverage90_max}};
  document["coverage90_field"] = {{"min", f.field_coverage90_min}, {"max", f.field_coverage90_max}};
  document["frontier_at_5_per_million"] = {{"waste_percent_gauge", f.frontier_percent_gauge},
                                           {"waste_five_steps", f.frontier_five_steps},
                                           {"best_percent_gauge", f.best_frontier_percent_gauge},
                                           {"best_five_steps", f.best_frontier_five_steps},
                                           {"one_n_for_all", f.one_n},
                                           {"one_n_a_side", f.one_n_a_side},
                                           {"over_best", f.over_best},
                                           {"over_one_n_for_all", f.over_one_n},
                                           {"over_one_n_a_side", f.over_one_n_a_side}};
  document["equal_counted_run_outs"] = equal_run_outs_document(f.over_best_many);
  document["coverage90_specimens_doubled"] = {{"min", f.doubled_coverage90_min}, {"max", f.doubled_coverage90_max}};
  document["best_possible"] = {{"waste_percent_gauge", f.best_waste_percent_gauge},
                               {"waste_five_steps", f.best_waste_five_steps}};
  document["crps_over_best"] = f.crps_over_best;
  for (const auto& sweep : results.sweeps) document["sweeps"].push_back(sweep_document(sweep));
  for (const auto& split : results.splits) document["splits"].push_back(split_document(split));
  document["runs"] = runs_document(results.reference);
  document["rules"] = runs_document(results.rules);
  document["field"] = runs_document(results.field);
  document["plans"] = runs_document(results.plans);
  document["one_n_for_all"] = curve_document(results.one_n_for_all);
  document["seconds"] = results.seconds;
  return document;
}

}  // namespace cellarer::bench
