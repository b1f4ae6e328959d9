// SPDX-License-Identifier: MIT
#include "tests/bench/truths.hpp"

#include <cmath>

#include "model/life/gauge.hpp"
#include "model/life/load_table.hpp"
#include "tests/bench/ours.hpp"

namespace cellarer::bench {

namespace {

/// Known but for rounding, and nothing else is to be learned from it.
void know(life::SetPrior& prior, life::SetUnknown what, double value, double sd) {
  auto& [mean, cov] = prior.belief;
  mean[what] = value;
  cov.row(what).setZero();
  cov.col(what).setZero();
  cov(what, what) = sd * sd;
}

void know_cell(const SetCourse& truth, const life::Course& nominal, life::SetPrior& prior, cell::Profile& cell) {
  const auto& phase = nominal.phases().front();
  const life::LoadTable table(*phase.unit, cell.curve, phase.pacing);
  // The reference world's unit draws the same current at every voltage: the charge to cut-off is Q times its depth.
  const double by_the_curve_mAh = cell.curve.capacity_mAh() * table.cutoff_depth(1.0);
  know(prior, life::row_capacity, std::log(truth.charge_to_cutoff_mAh / by_the_curve_mAh), 0.002);
  cell.spread.dud_fraction = 0;
}

void know_gauge(const SetCourse& truth, const life::Course& nominal, life::SetPrior& prior, cell::Profile&) {
  const auto& gauge = nominal.phases().front().unit->gauge;
  double sum = 0;
  for (const auto& evening : truth.evenings) sum += evening.shown - life::gauge_percent(gauge, evening.set_V);
  const auto count = static_cast<double>(truth.evenings.size());
  if (count > 0) know(prior, life::row_bias, sum / count, 0.2);
}

void know_use(const SetCourse& truth, const life::Course& nominal, life::SetPrior& prior, cell::Profile&) {
  know(prior, life::row_use, std::log(truth.charge_to_cutoff_mAh / nominal.charge_mAh(truth.cutoff)), 0.002);
}

Contestants::Given given(const char* name, decltype(OurOptions::truth) truth) {
  return {name, our_forecaster({truth})};
}

}  // namespace

std::vector<Contestants::Given> ours_given_the_truth() {
  return {given("ours, cell known", know_cell), given("ours, gauge known", know_gauge),
          given("ours, use known", know_use)};
}

}  // namespace cellarer::bench
