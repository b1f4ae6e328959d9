// SPDX-License-Identifier: MIT
#include "model/life/set_posterior.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "model/duty/set_voltage.hpp"
#include "model/life/gauge.hpp"
#include "model/life/normal.hpp"

namespace cellarer::life {

namespace {

/// Half width of the axes in standard deviations.
constexpr double use_reach = 5.0, capacity_reach = 4.5;
/// Use of one day about the set's mean (movement, temperature, a restless night); an assumption: no source.
constexpr double day_log_sd = 0.05;
/// There are no measured intermittent discharges: results for bursts carry a tenth more width.
constexpr double intermittent_width = 1.10;
/// Share of ends that are put down to the cells and had another cause (a contact, the unit).
constexpr double misjudged_end = 0.01;
constexpr double wander_correlation_h = 107;

double capacity_log_sd(const cell::Spread& spread, int cells_in_series, double stored_log_sd) {
  const double specimen = spread.specimen_log_sd / std::sqrt(static_cast<double>(cells_in_series));
  return intermittent_width * std::sqrt(specimen * specimen + spread.lot_log_sd * spread.lot_log_sd +
                                        spread.brand_log_sd * spread.brand_log_sd +
                                        spread.fit_log_sd * spread.fit_log_sd + stored_log_sd * stored_log_sd);
}

/// Offset of node k of an axis of `count` nodes that reaches `reach` standard deviations to both sides.
double axis_z(int k, int count, double reach) { return count == 1 ? 0 : reach * (2.0 * k / (count - 1) - 1); }

}  // namespace

SetPosterior::SetPosterior(const Setup& setup) : setup_(setup), last_observed_(setup.course->from()) {
  assert(setup.course != nullptr && setup.cell != nullptr && !setup.course->phases().empty() && setup.prior.sd > 0);
  noise_model_.wander_points = setup.course->phases().front().unit->gauge.noise_points;
  noise_model_.correlation_time_h = wander_correlation_h;
  lay_out_axes();
  normalise();
  log_evidence_ = 0;
}

void SetPosterior::lay_out_axes() {
  const auto& phases = setup_.course->phases();
  const auto& curve = setup_.cell->curve;
  for (int k = 0; k < setup_.grid.use; ++k) {
    uses_.push_back(std::exp(setup_.prior.mean + setup_.prior.sd * axis_z(k, setup_.grid.use, use_reach)));
  }
  for (const auto& phase : phases) {
    auto& depths = cutoff_depth_.emplace_back();
    for (const double use : uses_) depths.push_back(duty::cutoff_depth(*phase.unit, curve, phase.pacing, use));
  }
  const auto& spread = setup_.cell->spread;
  const double sd = capacity_log_sd(spread, phases.front().unit->cells_in_series, setup_.stored_log_sd);
  const double capacity_mAh = curve.capacity_mAh() * setup_.stored_share;
  const auto add_scale = [&](double lambda) {
    auto& scales = scales_.emplace_back();
    for (const auto& phase : phases) scales.emplace_back(*phase.unit, curve, phase.pacing, lambda);
    return scales_.size() - 1;
  };
  double total = 0;
  for (int k = 0; k < setup_.grid.capacity; ++k) {
    const double z = axis_z(k, setup_.grid.capacity, capacity_reach);
    total += std::exp(-0.5 * z * z);
  }
  for (int k = 0; k < setup_.grid.capacity; ++k) {
    const double z = axis_z(k, setup_.grid.capacity, capacity_reach);
    const double share = (1 - spread.dud_fraction) * std::exp(-0.5 * z * z) / total;
    add_nodes(add_scale(std::clamp(std::exp(sd * z), 0.5, 1.6)), capacity_mAh, std::log(share));
  }
  if (spread.dud_fraction > 0) {
    add_nodes(add_scale(1.0), capacity_mAh * (1 - spread.dud_shortfall), std::log(spread.dud_fraction));
  }
}

void SetPosterior::add_nodes(std::size_t scale, double capacity_mAh, double log_prior) {
  const auto& prior = setup_.prior;
  const auto& unit = *setup_.course->phases().front().unit;
  const double explained = prior.use_bias_cov / (prior.sd * prior.sd);
  const double offset_V = setup_.cell->spread.curve_sd_V * unit.cells_in_series;
  const int starts = setup_.start == StartDepth::fresh ? 1 : setup_.grid.start;
  for (std::size_t use = 0; use < uses_.size(); ++use) {
    const double distance = std::log(uses_[use]) - prior.mean;
    const double z = distance / prior.sd;
    for (int start = 0; start < starts; ++start) {
      Node node{};
      node.use = use;
      node.scale = scale;
      node.capacity_mAh = capacity_mAh;
      node.start_depth = starts == 1 ? scales_[scale].front().depth(setup_.carried_mAh * uses_[use] / capacity_mAh)
                                     : static_cast<double>(start) / starts;
      node.log_weight = log_prior - 0.5 * z * z;
      // Given its use, a channel's bias is what the two have been seen to do together.
      node.noise.mean[0] = prior.bias_mean + explained * distance;
      node.noise.cov[0][0] = std::max(prior.bias_sd * prior.bias_sd - explained * prior.use_bias_cov, 1e-4);
      node.noise.cov[1][1] = noise_model_.wander_points * noise_model_.wander_points;
      node.noise.cov[2][2] = offset_V * offset_V;
      follow_phases(node);
      nodes_.push_back(std::move(node));
    }
  }
}

void SetPosterior::follow_phases(Node& node) const {
  const auto& phases = setup_.course->phases();
  const double per_mAh = uses_[node.use] / node.capacity_mAh;
  double depth = node.start_depth;
  for (std::size_t p = 0; p < phases.size(); ++p) {
    node.phase_start.push_back(depth);
    const auto& scale = scales_[node.scale][p];
    const double cutoff = cutoff_depth_[p][node.use];
    const double begun = scale.travelled(depth);
    const double left_mAh = std::max(scale.travelled(cutoff) - begun, 0.0) / per_mAh;
    node.cutoff_mAh = phases[p].charge_from_mAh + left_mAh;
    const bool last = p + 1 == phases.size();
    if (last || node.cutoff_mAh < phases[p + 1].charge_from_mAh) break;
    depth = scale.depth(begun + (phases[p + 1].charge_from_mAh - phases[p].charge_from_mAh) * per_mAh);
  }
  while (node.phase_start.size() < phases.size()) node.phase_start.push_back(1.0);
  node.cutoff_sd_mAh = blur_mAh(node.cutoff_mAh);
}

double SetPosterior::blur_mAh(double charge_mAh) const {
  const auto& course = *setup_.course;
  const double day_mAh =
      std::max(course.charge_mAh(course.to()) / hours_between(course.from(), course.to()) * 24, 1e-6);
  return day_log_sd * std::sqrt(day_mAh * std::max(charge_mAh, day_mAh));
}

double SetPosterior::depth_at(const Node& node, double charge_mAh) const {
  const auto phase = setup_.course->phase_at(charge_mAh);
  const auto& scale = scales_[node.scale][phase];
  const double spent =
      (charge_mAh - setup_.course->phases()[phase].charge_from_mAh) * uses_[node.use] / node.capacity_mAh;
  return scale.depth(scale.travelled(node.phase_start[phase]) + spent);
}

double SetPosterior::set_V(const Node& node, double charge_mAh, Condition condition) const {
  const auto& phase = setup_.course->phases()[setup_.course->phase_at(charge_mAh)];
  const auto& curve = setup_.cell->curve;
  const double depth = depth_at(node, charge_mAh);
  const double use = uses_[node.use];
  const auto side = setup_.course->side();
  switch (condition) {
    case Condition::pacing:
      return duty::pacing_V(*phase.unit, curve, phase.pacing, use, depth);
    case Condition::idle:
      return duty::idle_V(*phase.unit, side, curve, use, depth);
    case Condition::just_on:
      return duty::just_on_V(*phase.unit, side, curve, use, depth);
    case Condition::off:
      break;
  }
  return duty::off_V(*phase.unit, side, curve, use, depth);
}

SetPosterior::Expected SetPosterior::expect(const Node& node, const Observation& observation) const {
  const double charge = setup_.course->charge_mAh(observation.at);
  const double volts = set_V(node, charge, observation.condition);
  Expected expected{{observation.low, observation.high, observation.white_sd, {0, 0, 1}, 1.0}, volts};
  if (observation.scale == Observation::Scale::gauge) {
    const auto& gauge = setup_.course->phases()[setup_.course->phase_at(charge)].unit->gauge;
    expected.observed.loading = {1, 1, gauge_slope(gauge, volts)};
    expected.observed.scale_width = 100;
    expected.predicted = gauge_percent(gauge, volts);
  }
  return expected;
}

SetPosterior::Place SetPosterior::place(const Observation& observation) const {
  Place place{0, 0};
  const double hours = hours_between(last_observed_, observation.at);
  for (const auto& node : nodes_) {
    const double weight = std::exp(node.log_weight);
    if (weight < 1e-12) continue;
    auto noise = node.noise;
    pass_time(noise, noise_model_, hours);
    const auto [observed, predicted] = expect(node, observation);
    place.below +=
        weight * (std::isinf(observed.high) ? 1 : probability_below(noise, observed, predicted, observed.high));
    place.above +=
        weight * (std::isinf(observed.low) ? 1 : 1 - probability_below(noise, observed, predicted, observed.low));
  }
  return place;
}

void SetPosterior::observe(const Observation& observation, bool trusted) {
  auto model = noise_model_;
  if (trusted) model.mistake_probability = 0;
  const double hours = hours_between(last_observed_, observation.at);
  for (auto& node : nodes_) {
    pass_time(node.noise, noise_model_, hours);
    const auto [observed, predicted] = expect(node, observation);
    node.log_weight += std::log(take_in(node.noise, model, observed, predicted));
  }
  last_observed_ = std::max(last_observed_, observation.at);
  normalise();
}

void SetPosterior::alive_at(Instant at) {
  const double charge = setup_.course->charge_mAh(at);
  survived_mAh_ = charge;
  for (auto& node : nodes_) {
    const double dead = normal_below((charge - node.cutoff_mAh) / node.cutoff_sd_mAh);
    node.log_weight += std::log(std::max(1 - dead, 1e-12));
  }
  normalise();
}

void SetPosterior::stopped_between(Instant last_seen, Instant stopped) {
  const double from = setup_.course->charge_mAh(last_seen), to = setup_.course->charge_mAh(stopped);
  for (auto& node : nodes_) {
    const double a = (from - node.cutoff_mAh) / node.cutoff_sd_mAh, b = (to - node.cutoff_mAh) / node.cutoff_sd_mAh;
    node.log_weight += std::log((1 - misjudged_end) * normal_between(std::min(a, b), b) + misjudged_end * 0.1);
  }
  normalise();
}

void SetPosterior::normalise() {
  double highest = -1e300;
  for (const auto& node : nodes_) highest = std::max(highest, node.log_weight);
  double total = 0;
  for (const auto& node : nodes_) total += std::exp(node.log_weight - highest);
  const double shift = highest + std::log(total);
  for (auto& node : nodes_) node.log_weight -= shift;
  log_evidence_ += shift;
}

UseMoments SetPosterior::moments() const {
  UseMoments moments{};
  for (const auto& node : nodes_) {
    const double weight = std::exp(node.log_weight);
    moments.mean += weight * std::log(uses_[node.use]);
    moments.bias_mean += weight * node.noise.mean[0];
  }
  for (const auto& node : nodes_) {
    const double weight = std::exp(node.log_weight);
    const double use = std::log(uses_[node.use]) - moments.mean, bias = node.noise.mean[0] - moments.bias_mean;
    moments.variance += weight * use * use;
    moments.bias_variance += weight * (bias * bias + node.noise.cov[0][0]);
    moments.use_bias_cov += weight * use * bias;
  }
  return moments;
}

CrossingDistribution SetPosterior::cutoff() const {
  std::vector<Crossing> crossings;
  for (const auto& node : nodes_) crossings.push_back({node.cutoff_mAh, node.cutoff_sd_mAh, std::exp(node.log_weight)});
  return CrossingDistribution(std::move(crossings), survived_mAh_);
}

CrossingDistribution SetPosterior::warning() const {
  std::vector<Crossing> crossings;
  for (const auto& node : nodes_) {
    const double weight = std::exp(node.log_weight);
    // What matters of a warning is when to expect it, not its far tail.
    if (weight < 1e-9) continue;
    const auto& phase = setup_.course->phases()[setup_.course->phase_at(node.cutoff_mAh)];
    const auto& gauge = phase.unit->gauge;
    const auto shown = [&](double charge) {
      const double volts = set_V(node, charge, Condition::pacing) + node.noise.mean[2];
      return gauge_percent(gauge, volts) + node.noise.mean[0];
    };
    double low = 0, high = node.cutoff_mAh;
    for (int i = 0; i < 24; ++i) {
      const double middle = 0.5 * (low + high);
      (shown(middle) > phase.unit->warning_percent ? low : high) = middle;
    }
    // The gauge's fall about the crossing [points per mAh], by a difference that stays inside the set's life.
    const double step = 0.01 * node.cutoff_mAh + 1e-9;
    const double from = std::max(low - step, 0.0);
    const double fall = std::max((shown(from) - shown(from + 2 * step)) / (2 * step), 1e-6);
    const double points = std::sqrt(node.noise.cov[0][0] + noise_model_.wander_points * noise_model_.wander_points);
    const double blur = blur_mAh(low);
    // The gauge's error moves the warning within the set's life, not beyond it.
    const double error = std::min(points / fall, 0.25 * node.cutoff_mAh);
    crossings.push_back({low, std::sqrt(error * error + blur * blur), weight});
  }
  return CrossingDistribution(std::move(crossings), 0);
}

SetPosterior::Gauge SetPosterior::gauge_at(double charge_mAh) const {
  double mean = 0, square = 0;
  for (const auto& node : nodes_) {
    const double weight = std::exp(node.log_weight);
    if (weight < 1e-6) continue;
    const auto& gauge = setup_.course->phases()[setup_.course->phase_at(charge_mAh)].unit->gauge;
    const double volts = set_V(node, charge_mAh, Condition::pacing);
    const double slope = gauge_slope(gauge, volts);
    const double shown = gauge_percent(gauge, volts) + node.noise.mean[0] + slope * node.noise.mean[2];
    const double variance = node.noise.cov[0][0] + noise_model_.wander_points * noise_model_.wander_points +
                            slope * slope * node.noise.cov[2][2] + 2 * slope * node.noise.cov[0][2];
    mean += weight * shown;
    square += weight * (shown * shown + std::max(variance, 0.0));
  }
  return {mean, std::sqrt(std::max(square - mean * mean, 0.0))};
}

}  // namespace cellarer::life
