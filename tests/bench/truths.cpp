// SPDX-License-Identifier: MIT
#include "tests/bench/truths.hpp"

#include <cmath>

#include "model/life/load_table.hpp"
#include "tests/bench/ours.hpp"

namespace cellarer::bench {

namespace {

void tell(life::SetPrior& prior, life::SetUnknown what, double value, double sd) {
  auto& [mean, cov] = prior.belief;
  const life::SetBelief::Vector gain = cov.col(what) / (cov(what, what) + sd * sd);
  mean += gain * (value - mean[what]);
  cov -= gain * cov.row(what).eval();
}

void tell_cell(const SetCourse& truth, const life::Course& nominal, life::SetPrior& prior, cell::Profile& cell) {
  const auto& phase = nominal.phases().front();
  const life::LoadTable table(*phase.unit, cell.curve, phase.pacing);
  // The reference world's unit draws the same current at every voltage: the charge to cut-off is Q times its depth.
  const double by_the_curve_mAh = cell.curve.capacity_mAh() * table.cutoff_depth(1.0);
  tell(prior, life::row_capacity, std::log(truth.charge_at_profile_use_mAh / by_the_curve_mAh), told_log_sd);
  cell.spread.dud_fraction = 0;
}

void tell_gauge(const SetCourse& truth, const life::Course&, life::SetPrior& prior, cell::Profile&) {
  tell(prior, life::row_bias, truth.lasting_gauge_bias, told_points_sd);
}

void tell_use(const SetCourse& truth, const life::Course&, life::SetPrior& prior, cell::Profile& cell) {
  // Beside the draw, that unknown holds how far the type's curve is off along the charge, of which nothing is told.
  tell(prior, life::row_use, truth.lasting_log_use, std::hypot(told_log_sd, cell.spread.curve_charge_log_sd));
}

Contestants::Given given(GivenTruth truth, decltype(OurOptions::truth) tell) { return {truth, our_forecaster({tell})}; }

}  // namespace

std::vector<Contestants::Given> ours_given_the_truth() {
  return {given(GivenTruth::cell, tell_cell), given(GivenTruth::gauge, tell_gauge), given(GivenTruth::use, tell_use)};
}

}  // namespace cellarer::bench
