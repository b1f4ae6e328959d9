// SPDX-License-Identifier: MIT
#include "model/life/set_posterior.hpp"

#include <Eigen/LU>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "model/duty/set_voltage.hpp"
#include "model/life/gauge.hpp"
#include "model/life/normal.hpp"
#include "model/quantities/square.hpp"

namespace cellarer::life {

namespace {

/// Half width of the axes in standard deviations.
constexpr double use_reach = 5.0, capacity_reach = 4.5;
/// Share of ends that are put down to the cells and had another cause (a contact, the unit).
constexpr double misjudged_end = 0.01;
constexpr double wander_correlation_h = 107;
/// A hypothesis of less weight is gone: the policy's limit is a million times more.
constexpr double gone = 1e-11;
/// Those that are gone weigh nothing, and are cleared away when they are one in so many.
constexpr std::size_t worth_clearing = 8;

/// Offset of node k of an axis of `count` nodes that reaches `reach` standard deviations to both sides.
double axis_z(int k, int count, double reach) { return count == 1 ? 0 : reach * (2.0 * k / (count - 1) - 1); }

}  // namespace

SetPosterior::SetPosterior(const Setup& setup)
    : setup_(setup),
      last_observed_(setup.course->from()),
      day_mAh_(std::max(setup.course->charge_per_day_mAh(setup.course->from()), 1e-6)) {
  assert(setup.course != nullptr && setup.cell != nullptr && !setup.course->phases().empty());
  noise_model_.wander_points = setup.course->phases().front().unit->gauge.noise_points * setup.prior.gauge_noise_scale;
  noise_model_.correlation_time_h = wander_correlation_h;
  unit_observed_ = setup.course->phases().front().unit_index;
  lay_out_axes();
  normalise();
  log_evidence_ = 0;
}

void SetPosterior::lay_out_axes() {
  const auto& phases = setup_.course->phases();
  const auto& belief = setup_.prior.belief;
  for (int k = 0; k < setup_.grid.use; ++k) {
    uses_.push_back(std::exp(belief.mean[row_use] + belief.sd(row_use) * axis_z(k, setup_.grid.use, use_reach)));
    log_uses_.push_back(std::log(uses_.back()));
  }
  LoadTables own;
  auto& tables = setup_.tables != nullptr ? *setup_.tables : own;
  pacing_V_.reserve(phases.size() * uses_.size());
  cutoff_depth_.reserve(phases.size() * uses_.size());
  lives_per_depth_.reserve(phases.size() * uses_.size());
  for (std::size_t p = 0; p < phases.size(); ++p) {
    tables_.push_back(tables.get(*phases[p].unit, setup_.cell->curve, phases[p].pacing));
    phase_factor_.push_back(
        p == 0 || setup_.prior.phase_shifts.empty() ? 1.0 : std::exp(setup_.prior.phase_shifts[p].log_use));
    for (const double use : uses_) {
      tables_[p]->pacing_V(use * phase_factor_[p], pacing_V_.emplace_back());
      cutoff_depth_.push_back(tables_[p]->cutoff_depth(use * phase_factor_[p]));
      lives_per_depth_.push_back(1 / cutoff_depth_.back());
    }
  }
  const auto& spread = setup_.cell->spread;
  const double mean = belief.mean[row_capacity], sd = belief.sd(row_capacity);
  const double capacity_mAh = setup_.cell->curve.capacity_mAh() * setup_.stored_share;
  const auto add_scale = [&](double log_lambda) {
    const auto begins = scales_.size();
    const double lambda = std::clamp(std::exp(log_lambda), 0.51, 1.6);
    log_capacities_.push_back(std::log(lambda));
    for (const auto& table : tables_) scales_.emplace_back(*table, lambda);
    return begins;
  };
  const int starts = setup_.start == StartDepth::fresh ? 1 : setup_.grid.start;
  const auto most_nodes = uses_.size() * static_cast<std::size_t>((setup_.grid.capacity + 1) * starts);
  nodes_.reserve(most_nodes);
  const auto noise = first_noise();
  noise_ = NoiseBank(most_nodes, noise.state);
  way_at_phase_.reserve(most_nodes * phases.size());
  scales_.reserve((static_cast<std::size_t>(setup_.grid.capacity) + 1) * phases.size());
  double total = 0;
  for (int k = 0; k < setup_.grid.capacity; ++k)
    total += std::exp(-0.5 * square(axis_z(k, setup_.grid.capacity, capacity_reach)));
  for (int k = 0; k < setup_.grid.capacity; ++k) {
    const double z = axis_z(k, setup_.grid.capacity, capacity_reach);
    const double share = (1 - spread.dud_fraction) * std::exp(-0.5 * z * z) / total;
    add_nodes(noise, add_scale(mean + sd * z), capacity_mAh, sd * z, share);
  }
  if (spread.dud_fraction > 0)
    add_nodes(noise, add_scale(mean), capacity_mAh * (1 - spread.dud_shortfall), 0, spread.dud_fraction);
}

/// The noise of a hypothesis in the middle of both axes, and how its means move along them.
SetPosterior::FirstNoise SetPosterior::first_noise() const {
  const auto& [mean, covariance] = setup_.prior.belief;
  // Given the use and the capacity, the gauge's bias and the set's offset and tilt are what they have been seen to be
  // with them.
  constexpr std::array axes{row_use, row_capacity};
  Eigen::Matrix2d of_axes;
  Eigen::Matrix<double, 3, 2> across;
  for (int j = 0; j < 2; ++j) {
    across.col(j) = covariance.block<3, 1>(row_bias, axes[j]);
    for (int i = 0; i < 2; ++i) of_axes(i, j) = covariance(axes[i], axes[j]);
  }
  FirstNoise first{{}, across * of_axes.inverse()};
  Eigen::Matrix3d rest = covariance.block<3, 3>(row_bias, row_bias);
  rest -= first.by_axes * across.transpose();
  rest(1, 1) = std::max(rest(1, 1), square(0.2) * covariance(row_offset, row_offset));
  rest(0, 0) = std::max(rest(0, 0), 1e-4);
  first.state.mean = {mean[row_bias], 0, mean[row_offset], mean[row_tilt]};
  auto& cov = first.state.cov;
  cov[0][0] = rest(0, 0);
  cov[0][2] = rest(0, 1);
  cov[0][3] = rest(0, 2);
  cov[2][2] = rest(1, 1);
  cov[2][3] = rest(1, 2);
  cov[3][3] = rest(2, 2);
  cov[1][1] = square(noise_model_.wander_points);
  return first;
}

void SetPosterior::add_nodes(const FirstNoise& noise, std::size_t scale, double capacity_mAh, double apart,
                             double prior) {
  const auto& [mean, covariance] = setup_.prior.belief;
  // Given the capacity, use is what it has been seen to be with it.
  const double slope = covariance(row_use, row_capacity) / covariance(row_capacity, row_capacity);
  const double use_variance = covariance(row_use, row_use);
  const double left_variance = use_variance - slope * covariance(row_use, row_capacity);
  const double share = prior * std::sqrt(use_variance / left_variance);
  const int starts = setup_.start == StartDepth::fresh ? 1 : setup_.grid.start;
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    const double distance = log_uses_[u] - mean[row_use];
    const double weight = share * std::exp(-0.5 * square(distance - slope * apart) / left_variance);
    const Eigen::Vector3d errors = noise.by_axes * Eigen::Vector2d(distance, apart);
    for (int start = 0; start < starts; ++start) {
      Node node{};
      node.use = u;
      node.scale = scale;
      node.capacity_mAh = capacity_mAh;
      node.weight = weight;
      const double spent = setup_.carried_mAh * uses_[u] / capacity_mAh;
      const double start_depth = static_cast<double>(start) / starts;
      node.way = way_at_phase_.size();
      way_at_phase_.push_back(starts == 1 ? spent : scales_[scale].travelled(start_depth));
      follow_phases(node);
      nodes_.push_back(node);
      noise_.add(errors[0], errors[1], errors[2]);
    }
  }
}

void SetPosterior::follow_phases(Node& node) {
  const auto& phases = setup_.course->phases();
  const auto& shifts = setup_.prior.phase_shifts;
  double unknown = 0;
  way_at_phase_.resize(node.way + phases.size(), way_at_phase_[node.way]);
  for (std::size_t p = 0; p < phases.size(); ++p) {
    const auto& scale = scales_[node.scale + p];
    const double per_mAh = use_in_phase(node, p) / node.capacity_mAh;
    const double begun = way_at_phase_[node.way + p];
    const double left_mAh = std::max(scale.travelled(cutoff_depth_[of_use(p, node)]) - begun, 0.0) / per_mAh;
    node.cutoff_mAh = phases[p].charge_from_mAh + left_mAh;
    const bool last = p + 1 == phases.size();
    const double drawn_mAh =
        last ? left_mAh : std::min(left_mAh, phases[p + 1].charge_from_mAh - phases[p].charge_from_mAh);
    if (p > 0 && !shifts.empty()) unknown += square(shifts[p].log_use_sd * drawn_mAh);
    if (last || node.cutoff_mAh < phases[p + 1].charge_from_mAh) break;
    const double depth = scale.depth(begun + drawn_mAh * per_mAh);
    way_at_phase_[node.way + p + 1] = scales_[node.scale + p + 1].travelled(depth);
  }
  node.cutoff_sd_mAh = std::sqrt(square(blur_mAh(node.cutoff_mAh)) + unknown);
}

double SetPosterior::blur_mAh(double charge_mAh) const {
  return setup_.day_log_sd * std::sqrt(day_mAh_ * std::max(charge_mAh, day_mAh_));
}

double SetPosterior::unpaced_V(const Node& node, const Moment& at, Condition condition) const {
  const auto& unit = *setup_.course->phases()[at.phase].unit;
  const auto& curve = setup_.cell->curve;
  const double depth = place_at(node, at).depth();
  const double relative_use = use_in_phase(node, at.phase);
  const auto side = setup_.course->side();
  switch (condition) {
    case Condition::idle:
      return duty::idle_V(unit, side, curve, relative_use, depth);
    case Condition::just_on:
      return duty::just_on_V(unit, side, curve, relative_use, depth);
    case Condition::pacing:
    case Condition::off:
      break;
  }
  return duty::off_V(unit, side, curve, relative_use, depth);
}

/// Another unit has another gauge: its bias and its noise begin anew.
void SetPosterior::change_unit(std::size_t phase) {
  const auto& shift = setup_.prior.phase_shifts;
  const auto& gauge = setup_.course->phases()[phase].unit->gauge;
  const double bias_mean = shift.empty() ? 0 : shift[phase].bias_mean;
  const double bias_sd = shift.empty() ? gauge.bias_points : shift[phase].bias_sd;
  noise_model_.wander_points = gauge.noise_points;
  noise_.renew_gauge(bias_mean, square(bias_sd), square(gauge.noise_points));
}

void SetPosterior::expect_on_gauge(const Observation& observation, std::size_t phase, double charge_mAh) {
  const auto at = moment(phase, charge_mAh);
  const GaugeLines gauge(setup_.course->phases()[phase].unit->gauge);
  const double read_variance = square(observation.white_sd), form_V = form_sd_V(phase);
  const bool pacing = observation.condition == Condition::pacing;
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const auto [volts, tilt] = pacing ? paced(nodes_[k], at) : set_V(nodes_[k], at, observation.condition);
    const auto [percent, slope] = gauge.shown(volts);
    noise_.expect(k, percent, slope, slope * tilt, read_variance + square(slope * form_V));
  }
}

void SetPosterior::expect_volts(const Observation& observation, std::size_t phase, double charge_mAh) {
  // Near its end a curve's form is unsure along the charge rather than in volts. On a gauge the noise drowns it.
  const double step = 0.01 * charge_mAh, along = setup_.cell->spread.curve_charge_log_sd;
  const auto at = moment(phase, charge_mAh), before = moment(phase, charge_mAh - step),
             after = moment(phase, charge_mAh + step);
  const double read_variance = square(observation.white_sd) + square(form_sd_V(phase));
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const auto& node = nodes_[k];
    const auto of = [&](const Moment& moment) { return set_V(node, moment, observation.condition); };
    const double fall_V = of(before).volts - of(after).volts;
    const auto [volts, tilt] = of(at);
    noise_.expect(k, volts, 1, tilt, read_variance + square(along * fall_V / 0.02));
  }
}

void SetPosterior::prepare(const Observation& observation) {
  if (prepared_ && prepared_->same_as(observation)) return;
  const auto& course = *setup_.course;
  const double hours = hours_between(last_observed_, observation.at);
  const double charge = course.charge_mAh(observation.at);
  const auto phase = course.phase_at(charge);
  const auto unit = course.phases()[phase].unit_index;
  if (unit_observed_ != unit) change_unit(phase);
  unit_observed_ = unit;
  const bool on_the_gauge = observation.scale == Observation::Scale::gauge;
  told_ = {observation.low,
           observation.high,
           std::hypot(observation.white_sd, form_sd_V(phase)),
           {on_the_gauge ? 1.0 : 0.0, on_the_gauge ? 1.0 : 0.0, 1, 0},
           on_the_gauge ? 100.0 : 1.0};
  if (on_the_gauge)
    expect_on_gauge(observation, phase, charge);
  else
    expect_volts(observation, phase, charge);
  noise_.predict(PassedTime(noise_model_, hours), told_.loading[0], told_.loading[1]);
  last_observed_ = std::max(last_observed_, observation.at);
  prepared_ = observation;
  placed_.reset();
}

SetPosterior::Place SetPosterior::place(const Observation& observation) {
  prepare(observation);
  if (placed_) return *placed_;
  Place place{0, 0};
  const auto& tail = NormalTail::table();
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const double weight = nodes_[k].weight;
    if (weight < 1e-7) continue;
    const double mean = noise_.predicted_mean(k), per_sd = 1 / noise_.predicted_sd(k);
    const auto below = [&](double value) { return tail.below((value - mean) * per_sd); };
    const double up_to_high = std::isinf(told_.high) ? 1 : below(told_.high);
    const double up_to_low = told_.is_point() ? up_to_high : std::isinf(told_.low) ? 0 : below(told_.low);
    place.below += weight * up_to_high;
    place.above += weight * (1 - up_to_low);
  }
  placed_ = place;
  return place;
}

void SetPosterior::count_fit(const Observation& observation) {
  if (fit_counted_ && fit_counted_->same_as(observation)) return;
  // What sounds by itself, or only bounds the gauge, was not read at a moment of someone's own choosing.
  const bool bound = observation.condition == Condition::just_on && std::isinf(observation.low);
  if (observation.scale != Observation::Scale::gauge || observation.warning || bound) return;
  const auto [below, above] = place(observation);
  gauge_fit_.add(1 - above, below);
}

void SetPosterior::set_aside(const Observation& observation) {
  count_fit(observation);
  fit_counted_ = observation;
}

void SetPosterior::observe(const Observation& observation, bool trusted) {
  count_fit(observation);
  prepare(observation);
  auto model = noise_model_;
  if (trusted) model.mistake_probability = 0;
  noise_.take_in(model, told_);
  for (std::size_t k = 0; k < nodes_.size(); ++k) nodes_[k].weight *= noise_.likelihood(k);
  prepared_.reset();
  placed_.reset();
  normalise();
}

void SetPosterior::alive_at(Instant at) { survived_mAh_ = std::max(survived_mAh_, setup_.course->charge_mAh(at)); }

double SetPosterior::alive(double cutoff_mAh, double sd_mAh) const {
  const double z = (survived_mAh_ - cutoff_mAh) / sd_mAh;
  return z < -9 ? 1 : std::max(normal_below(-z), 1e-12);
}

void SetPosterior::stopped_between(Instant last_seen, Instant stopped) {
  const double from = setup_.course->charge_mAh(last_seen), to = setup_.course->charge_mAh(stopped);
  survived_mAh_ = 0;
  for (auto& node : nodes_) {
    const double a = (from - node.cutoff_mAh) / node.cutoff_sd_mAh, b = (to - node.cutoff_mAh) / node.cutoff_sd_mAh;
    node.weight *= (1 - misjudged_end) * normal_between(std::min(a, b), b) + misjudged_end * 0.1;
  }
  normalise();
}

void SetPosterior::normalise() {
  double total = 0;
  for (const auto& node : nodes_) total += node.weight;
  const double per_total = 1 / total;
  std::size_t gone_now = 0;
  for (auto& node : nodes_) {
    node.weight *= per_total;
    if (!(node.weight < gone)) continue;
    node.weight = 0;
    ++gone_now;
  }
  if (gone_now * worth_clearing >= nodes_.size()) clear_away();
  log_evidence_ += std::log(total);
}

void SetPosterior::clear_away() {
  std::vector<std::size_t> kept;
  kept.reserve(nodes_.size());
  for (std::size_t k = 0; k < nodes_.size(); ++k)
    if (nodes_[k].weight > 0) kept.push_back(k);
  for (std::size_t to = 0; to < kept.size(); ++to) nodes_[to] = nodes_[kept[to]];
  nodes_.resize(kept.size());
  noise_.keep(kept);
}

SetLesson SetPosterior::lesson() const {
  SetLesson lesson;
  lesson.gauge = gauge_fit_;
  auto& [mean, cov] = lesson.belief;
  mean.setZero();
  cov.setZero();
  const auto place_of = [&](std::size_t k) {
    return SetBelief::Vector(log_uses_[nodes_[k].use], noise_.mean(k, 0), noise_.mean(k, 2), noise_.mean(k, 3),
                             log_capacity(nodes_[k]));
  };
  double total = 0;
  std::vector<std::pair<std::size_t, double>> weights;
  weights.reserve(nodes_.size());
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    weights.emplace_back(k, nodes_[k].weight * alive(nodes_[k].cutoff_mAh, nodes_[k].cutoff_sd_mAh));
    total += weights.back().second;
  }
  // Hundreds that weigh a hundred-millionth each move no mean and no variance.
  std::erase_if(weights, [&](const auto& of_node) { return of_node.second < 1e-8 * total; });
  for (auto& [k, weight] : weights) {
    weight /= total;
    mean += weight * place_of(k);
  }
  for (const auto& [k, weight] : weights) {
    const SetBelief::Vector apart = place_of(k) - mean;
    cov.triangularView<Eigen::Upper>() += weight * apart * apart.transpose();
    // Bias, offset and tilt stand together in the belief; among the errors that are tracked wander is the second.
    constexpr std::array<std::size_t, 3> tracked{0, 2, 3};
    for (int i = 0; i < 3; ++i)
      for (int j = i; j < 3; ++j) cov(row_bias + i, row_bias + j) += weight * noise_.cov(k, tracked[i], tracked[j]);
  }
  cov = cov.selfadjointView<Eigen::Upper>();
  return lesson;
}

}  // namespace cellarer::life
