// SPDX-License-Identifier: MIT
#include "tests/bench/peers/best_side.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace cellarer::bench {

namespace {

constexpr int theta_nodes = 81;
constexpr double reach = 5.5;  ///< half width of the axis in standard deviations
constexpr double infinity = std::numeric_limits<double>::infinity();

double below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// Between a <= b, in the tail where both lie.
double between(double a, double b) { return a > 0 ? below(-a) - below(-b) : below(b) - below(a); }

double squared(double x) { return x * x; }

struct Span {
  double low, high;
};

/// What a reading says of the unclipped percentage; none where it says nothing of the gauge.
std::optional<Span> span_of(const life::Reading& reading, double warning_percent) {
  if (const auto* shown = std::get_if<life::PercentShown>(&reading.value)) {
    if (shown->percent <= 0) return Span{-infinity, 0.5};
    if (shown->percent >= 100) return Span{99.5, infinity};
    return Span{shown->percent, shown->percent};
  }
  if (const auto* shown = std::get_if<life::StepShown>(&reading.value)) {
    const double width = 100.0 / shown->of;
    return Span{shown->step <= 0 ? -infinity : (shown->step - 1) * width,
                shown->step >= shown->of ? infinity : shown->step * width};
  }
  if (std::holds_alternative<life::WarningSounded>(reading.value)) return Span{-infinity, warning_percent};
  return std::nullopt;
}

}  // namespace

BestSide::BestSide(const World& world, TrueDischarge discharge, const WanderGrid& grid, GivenTruth given)
    : world_(&world), discharge_(std::move(discharge)), grid_(&grid), given_(given) {
  const auto& spec = world.spec();
  const double k = discharge_.exponent();
  const double lasting =
      squared(spec.use.household_log_sd) + squared(spec.use.side_log_sd) + squared(spec.use.channel_log_sd);
  carried_.mean.setZero();
  carried_.cov = Eigen::Vector3d(k * k * lasting, squared(spec.unit.unit_bias_points), squared(spec.unit.wander_points))
                     .asDiagonal();
}

void BestSide::cells_in(Instant at, bool ran_out, const SetCourse& truth) {
  if (clock_) {
    pass_to(at);
    if (ran_out) {
      stopped_between(std::max(cells_since_, at - std::chrono::hours(24)), at);
    } else {
      for (auto& node : nodes_) node.weight *= below((node.cutoff_h - clock_->charge_mAh(at)) / node.cutoff_sd_h);
    }
    normalise();
    learn();
  }
  before_ = of_next_set(truth);
  lay_out(at);
}

BestSide::Before BestSide::of_next_set(const SetCourse& truth) const {
  // All that a truth may be given of, as one Gaussian; theta = k log use - log capacity is what acts.
  enum Place : int { own, use, capacity, bias, wander, places };
  using Vector = Eigen::Matrix<double, places, 1>;
  using Matrix = Eigen::Matrix<double, places, places>;
  const auto& spec = world_->spec();
  const double k = discharge_.exponent();
  // The set's use is the side's own and something more.
  Eigen::Matrix<double, places, 3> from_carried = Eigen::Matrix<double, places, 3>::Zero();
  from_carried(own, 0) = from_carried(use, 0) = from_carried(bias, 1) = from_carried(wander, 2) = 1;
  Vector mean = from_carried * carried_.mean;
  Matrix cov = from_carried * carried_.cov * from_carried.transpose();
  cov(use, use) += squared(k * spec.use.set_log_sd);
  cov(capacity, capacity) += squared(spec.cells.set_log_sd) + squared(spec.cells.lot_log_sd);
  const auto told = [&](Place what, double value, double sd) {
    const Vector gain = cov.col(what) / (cov(what, what) + squared(sd));
    mean += gain * (value - mean(what));
    cov -= gain * cov.row(what).eval();
  };
  if (given_ == GivenTruth::cell) told(capacity, truth.set.log_capacity, told_log_sd);
  if (given_ == GivenTruth::gauge) told(bias, truth.lasting_gauge_bias, told_points_sd);
  if (given_ == GivenTruth::use) told(use, k * truth.lasting_log_use, k * told_log_sd);
  Eigen::Matrix<double, 4, places> acting = Eigen::Matrix<double, 4, places>::Zero();
  acting(0, own) = acting(1, use) = acting(2, bias) = acting(3, wander) = 1;
  acting(1, capacity) = -1;
  return {acting * mean, acting * cov * acting.transpose()};
}

void BestSide::lay_out(Instant at) {
  constexpr int days_ahead = 100;
  cells_since_ = at;
  if (last_ < at) last_ = at;
  clock_ = discharge_.clock(world_->zone(), at, days_ahead);
  const double day_h = clock_->charge_mAh(at + std::chrono::hours(24 * 7)) / 7;
  const double day_sd = discharge_.exponent() * world_->spec().use.day_log_sd;
  const double variance = before_.cov(1, 1), sd = std::sqrt(variance);
  const Eigen::Vector2d with_theta = before_.cov.block<2, 1>(2, 1);
  const Eigen::Matrix2d left = before_.cov.block<2, 2>(2, 2) - with_theta * with_theta.transpose() / variance;
  nodes_.clear();
  for (int i = 0; i < theta_nodes; ++i) {
    const double z = reach * (2.0 * i / (theta_nodes - 1) - 1);
    Node node;
    node.theta = before_.mean(1) + sd * z;
    node.weight = std::exp(-0.5 * z * z);
    node.cutoff_h = discharge_.hours_to_cutoff() * std::exp(-node.theta);
    node.cutoff_sd_h = day_sd * std::sqrt(node.cutoff_h * day_h) + 1e-6;
    const Eigen::Vector2d mean = before_.mean.tail<2>() + with_theta * (z / sd);
    const ErrorMoments start{mean(0), mean(1), std::max(left(0, 0), 0.01), std::max(left(1, 1), 0.01), left(0, 1)};
    const auto& unit = world_->spec().unit;
    node.error = unit.gauge_steps > 0 ? gridded_error(start, *grid_)
                                      : gaussian_error(start, {unit.wander_points, unit.wander_correlation});
    nodes_.push_back(std::move(node));
  }
  normalise();
}

void BestSide::pass_to(Instant at) {
  const double days = hours_between(last_, at) / 24;
  if (days <= 0) return;
  for (auto& node : nodes_) node.error->pass_days(days);
  last_ = at;
}

void BestSide::reading(const life::Reading& reading) {
  if (!clock_ || reading.at < cells_since_) return;
  if (std::holds_alternative<life::SideStopped>(reading.value)) return;  // the change that follows says so too
  const auto span = span_of(reading, world_->spec().unit.warning_percent);
  if (!span) return;
  pass_to(reading.at);
  const double progress = clock_->charge_mAh(reading.at);
  for (auto& node : nodes_) {
    const double scale = discharge_.scale_percent(progress * std::exp(node.theta));
    node.weight *= node.error->observe(scale, span->low, span->high);
  }
  normalise();
}

void BestSide::stopped_between(Instant seen, Instant stopped) {
  const double from = clock_->charge_mAh(seen), to = clock_->charge_mAh(stopped);
  for (auto& node : nodes_) {
    node.weight *= between((from - node.cutoff_h) / node.cutoff_sd_h, (to - node.cutoff_h) / node.cutoff_sd_h) + 1e-12;
  }
}

double BestSide::probability_by(Instant at, Instant when) const {
  const double now = clock_->charge_mAh(at), then = clock_->charge_mAh(when);
  double stops = 0, runs = 0;
  for (const auto& node : nodes_) {
    const double z_now = (now - node.cutoff_h) / node.cutoff_sd_h, z_then = (then - node.cutoff_h) / node.cutoff_sd_h;
    if (z_then > -9) stops += node.weight * between(std::min(z_now, z_then), z_then);
    runs += node.weight * (z_now > -9 ? below(-z_now) : 1);
  }
  return runs > 0 ? std::min(stops / runs, 1.0) : 1;
}

void BestSide::learn() {
  // Moments of theta, bias and wander after this set.
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  Eigen::Matrix3d cov = Eigen::Matrix3d::Zero();
  for (const auto& node : nodes_) {
    const auto error = node.error->moments();
    const Eigen::Vector3d here(node.theta, error.bias, error.wander);
    mean += node.weight * here;
    cov += node.weight * here * here.transpose();
    cov(1, 1) += node.weight * error.bias_variance;
    cov(2, 2) += node.weight * error.wander_variance;
    cov(1, 2) += node.weight * error.covariance;
    cov(2, 1) += node.weight * error.covariance;
  }
  cov -= mean * mean.transpose();
  // The side's own follows from the set's theta and the bias as the three were believed to go together before.
  const Eigen::RowVector2d side_with = before_.cov.block<1, 2>(0, 1);
  const Eigen::RowVector2d gain = side_with * before_.cov.block<2, 2>(1, 1).inverse();
  const double left = before_.cov(0, 0) - gain * side_with.transpose();
  Carried after;
  after.mean << before_.mean(0) + gain * (mean.head<2>() - before_.mean.segment<2>(1)), mean(1), mean(2);
  after.cov = cov;
  after.cov(0, 0) = left + gain * cov.topLeftCorner<2, 2>() * gain.transpose();
  after.cov.block<1, 2>(0, 1) = gain * cov.topRightCorner<2, 2>();
  after.cov.block<2, 1>(1, 0) = after.cov.block<1, 2>(0, 1).transpose();
  carried_ = after;
}

void BestSide::normalise() {
  double total = 0;
  for (const auto& node : nodes_) total += node.weight;
  for (auto& node : nodes_) node.weight = total > 0 ? node.weight / total : 1.0 / theta_nodes;
}

}  // namespace cellarer::bench
