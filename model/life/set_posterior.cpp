// SPDX-License-Identifier: MIT
#include "model/life/set_posterior.hpp"

#include <Eigen/LU>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <memory>
#include <span>

#include "model/life/normal.hpp"
#include "model/numerics/lanes.hpp"
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
  const auto& grid = setup_.grid;
  uses_.reserve(static_cast<std::size_t>(grid.use));
  log_uses_.reserve(static_cast<std::size_t>(grid.use));
  for (int k = 0; k < grid.use; ++k) {
    log_uses_.push_back(belief.mean[row_use] + belief.sd(row_use) * axis_z(k, grid.use, use_reach));
    uses_.push_back(std::exp(log_uses_.back()));
  }
  LoadTables own;
  auto& tables = setup_.tables != nullptr ? *setup_.tables : own;
  levels_.reserve(phases.size() * uses_.size());
  lives_per_depth_.reserve(phases.size() * uses_.size());
  cutoff_way_.reserve(phases.size() * uses_.size());
  cutoff_stretch_.reserve(phases.size() * uses_.size());
  for (std::size_t p = 0; p < phases.size(); ++p) {
    tables_.push_back(tables.get(*phases[p].unit, setup_.cell->curve, phases[p].pacing));
    phase_factor_.push_back(
        p == 0 || setup_.prior.phase_shifts.empty() ? 1.0 : std::exp(setup_.prior.phase_shifts[p].log_use));
    for (const double use : uses_) {
      levels_.push_back(tables_[p]->level(use * phase_factor_[p]));
      const double ends = tables_[p]->cutoff_depth(use * phase_factor_[p]);
      const auto place = LoadTable::at_depth(ends);
      lives_per_depth_.push_back(1 / ends);
      cutoff_way_.push_back(tables_[p]->way(place));
      cutoff_stretch_.push_back(tables_[p]->stretch(place));
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
  const int starts = setup_.start == StartDepth::fresh ? 1 : grid.start;
  const auto most_nodes = uses_.size() * static_cast<std::size_t>((grid.capacity + 1) * starts);
  nodes_.reserve(most_nodes);
  const auto noise = first_noise();
  noise_ = NoiseBank(most_nodes, noise.state);
  way_at_phase_.reserve(most_nodes * phases.size());
  scales_.reserve((static_cast<std::size_t>(grid.capacity) + 1) * phases.size());
  std::vector<double> shares(static_cast<std::size_t>(grid.capacity));
  double total = 0;
  for (int k = 0; k < grid.capacity; ++k)
    total += shares[static_cast<std::size_t>(k)] = std::exp(-0.5 * square(axis_z(k, grid.capacity, capacity_reach)));
  for (int k = 0; k < grid.capacity; ++k) {
    const double apart = sd * axis_z(k, grid.capacity, capacity_reach);
    const double share = (1 - spread.dud_fraction) * shares[static_cast<std::size_t>(k)] / total;
    add_nodes(noise, add_scale(mean + apart), capacity_mAh, apart, share);
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
  const bool simple = starts == 1 && setup_.course->phases().size() == 1;
  const auto& line = scales_[scale];
  numerics::Lanes weights{};
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    const double distance = log_uses_[u] - mean[row_use];
    constexpr std::size_t lanes = numerics::lane_count;
    if (u % lanes == 0) {
      numerics::Lanes from_mean{};
      for (std::size_t i = 0; i < lanes; ++i)
        from_mean[static_cast<int>(i)] = log_uses_[std::min(u + i, uses_.size() - 1)] - mean[row_use] - slope * apart;
      weights = share * numerics::exp(from_mean * from_mean * (-0.5 / left_variance));
    }
    const double weight = weights[static_cast<int>(u % lanes)];
    const auto error = [&](int row) { return noise.by_axes(row, 0) * distance + noise.by_axes(row, 1) * apart; };
    if (simple) {  // as below, for what nearly all sets are
      const double per_mAh = uses_[u] / capacity_mAh, spent = setup_.carried_mAh * per_mAh;
      const double left = std::max(line.travelled(cutoff_way_[u], cutoff_stretch_[u]) - spent, 0.0);
      const double cutoff_mAh = left / per_mAh;
      nodes_.push_back(
          {u, scale, nodes_.size(), capacity_mAh, weight, cutoff_mAh, std::sqrt(blur_variance(cutoff_mAh))});
      way_at_phase_.push_back(spent);
      noise_.add(error(0), error(1), error(2));
      continue;
    }
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
      noise_.add(error(0), error(1), error(2));
    }
  }
}

void SetPosterior::follow_phases(Node& node) {
  const auto& phases = setup_.course->phases();
  const auto& shifts = setup_.prior.phase_shifts;
  double unknown = 0;
  if (phases.size() > 1) way_at_phase_.resize(node.way + phases.size(), way_at_phase_[node.way]);
  for (std::size_t p = 0; p < phases.size(); ++p) {
    const auto& scale = scales_[node.scale + p];
    const double per_mAh = use_in_phase(node, p) / node.capacity_mAh;
    const double begun = way_at_phase_[node.way + p];
    const auto of = of_use(p, node);
    const double left_mAh = std::max(scale.travelled(cutoff_way_[of], cutoff_stretch_[of]) - begun, 0.0) / per_mAh;
    node.cutoff_mAh = phases[p].charge_from_mAh + left_mAh;
    const bool last = p + 1 == phases.size();
    const double drawn_mAh =
        last ? left_mAh : std::min(left_mAh, phases[p + 1].charge_from_mAh - phases[p].charge_from_mAh);
    if (p > 0 && !shifts.empty()) unknown += square(shifts[p].log_use_sd * drawn_mAh);
    if (last || node.cutoff_mAh < phases[p + 1].charge_from_mAh) break;
    const double depth = scale.depth(begun + drawn_mAh * per_mAh);
    way_at_phase_[node.way + p + 1] = scales_[node.scale + p + 1].travelled(depth);
  }
  node.cutoff_sd_mAh = std::sqrt(blur_variance(node.cutoff_mAh) + unknown);
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
  noise_.look(told_);
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const double weight = nodes_[k].weight;
    if (weight < 1e-7) continue;
    place.below += weight * noise_.below_high(k);
    place.above += weight * (1 - noise_.below_low(k));
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
  constexpr double least = 1e-12;  // so far in a normal distribution's tail is z = 7.03
  return z < -9 ? 1 : z > 8 ? least : std::max(normal_below(-z), least);
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
  const std::size_t count = nodes_.size();
  const auto room = std::make_unique_for_overwrite<double[]>(3 * count);
  const std::span<double> weights(room.get(), count), uses(room.get() + count, count),
      capacities(room.get() + 2 * count, count);
  double total = 0;
  for (std::size_t k = 0; k < count; ++k) {
    const auto& node = nodes_[k];
    total += weights[k] = node.weight * alive(node.cutoff_mAh, node.cutoff_sd_mAh);
    uses[k] = log_uses_[node.use];
    capacities[k] = log_capacity(node);
  }
  const double per_total = 1 / total;
  // Hundreds that weigh a hundred-millionth each move no mean and no variance.
  for (double& weight : weights) weight = weight < 1e-8 * total ? 0 : weight * per_total;
  // Bias, offset and tilt stand together in the belief as they do there.
  static_assert(row_use == 0 && row_bias == 1 && row_offset == 2 && row_tilt == 3 && row_capacity == 4);
  const auto moments = noise_.moments(weights, uses, capacities);
  auto& [mean, cov] = lesson.belief;
  for (int i = 0; i < row_count; ++i) {
    mean[i] = moments.mean[static_cast<std::size_t>(i)];
    for (int j = i; j < row_count; ++j)
      cov(i, j) = cov(j, i) = moments.cov[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
  }
  return lesson;
}

}  // namespace cellarer::life
