// SPDX-License-Identifier: MIT
#include "model/cell/residuals.hpp"

#include <algorithm>
#include <cmath>

#include "model/cell/discharge.hpp"

namespace cellarer::cell {

namespace {

double basis_log_sd(Basis basis, const Noise& noise) {
  switch (basis) {
    case Basis::measured:
      return noise.measured;
    case Basis::data_sheet:
      return noise.data_sheet;
    case Basis::chart_reading:
      return noise.chart_reading;
    case Basis::memory:
      break;
  }
  return noise.memory;
}

bool same_curve(const Discharge& a, const Discharge& b) {
  return a.load.kind == b.load.kind && a.load.value == b.load.value && a.specimen == b.specimen &&
         a.temperature_C == b.temperature_C && a.regimen.has_value() == b.regimen.has_value() &&
         (!a.regimen || (a.regimen->on_s == b.regimen->on_s && a.regimen->period_s == b.regimen->period_s));
}

/// d ln hours / d cut-off [1/V], negative, on the prior's mean curve.
double log_slope(const Discharge& row, const Parameters& prior_mean, const Curve& curve) {
  const Circumstances how{prior_mean[fixture_ohm], slow_share(row.regimen, std::exp(prior_mean[log_tau_min])), 0};
  constexpr double half_V = 0.01;
  const auto above = discharge(curve, row.load, row.cutoff_V + half_V, how);
  const auto below = discharge(curve, row.load, row.cutoff_V - half_V, how);
  return (std::log(above.hours) - std::log(below.hours)) / (2 * half_V);
}

/// r sqrt(rho(r^2)) / r with the pseudo-Huber loss rho = 2 d^2 (sqrt(1 + r^2 / d^2) - 1).
double robust(double r) {
  constexpr double d = 3;
  const double z = r * r / (d * d);
  return z < 1e-8 ? r : r * std::sqrt(2 * (std::sqrt(1 + z) - 1) / z);
}

}  // namespace

Residuals::Residuals(const PublishedCell& cell, const FitOptions& options, const Parameters& prior_mean) : cell_(cell) {
  const Noise& noise = options.noise;
  const Curve mean_curve = curve_of(prior_mean);
  const auto& all = cell.discharges;
  const auto left_out = [&](std::size_t place) {
    return std::find(options.left_out.begin(), options.left_out.end(), place) != options.left_out.end();
  };
  for (std::size_t place = 0; place < all.size(); ++place) {
    const Discharge& row = all[place];
    const bool in_fit = !left_out(place) && row.temperature_C >= 5 && row.temperature_C <= 50;
    double curve_points = 0, repeats = 0;  // repeats: other cells of the brand, not told apart
    for (std::size_t other = 0; other < all.size(); ++other) {
      if (!left_out(other) && same_curve(row, all[other])) {
        ++curve_points;
        if (row.cutoff_V == all[other].cutoff_V) ++repeats;
      }
    }
    const double base = basis_log_sd(cell.source.basis, noise);
    double variance = base * base * std::max(1.0, curve_points / std::max(1.0, repeats) / noise.points_a_curve);
    const double slope = log_slope(row, prior_mean, mean_curve);
    const double contact_V = 1e-3 * mean_current_mA(row.load, row.cutoff_V) * noise.contact_ohm;
    variance += (noise.voltage_V * noise.voltage_V + contact_V * contact_V) * slope * slope;
    if (row.regimen) variance += noise.regimen * noise.regimen;
    if (row.temperature_C < 15 || row.temperature_C > 30) variance += noise.temperature * noise.temperature;
    log_sd_.push_back(std::sqrt(variance));
    in_fit_.push_back(in_fit);
    if (in_fit) rows_.push_back({place, log_sd_.back()});
  }
}

double Residuals::log_residual(std::size_t place, const Curve& curve, const Parameters& parameters) const {
  const Discharge& row = cell_.discharges[place];
  const Circumstances how{parameters[fixture_ohm], slow_share(row.regimen, std::exp(parameters[log_tau_min])), 0};
  const Discharged fitted = discharge(curve, row.load, row.cutoff_V, how);
  return row.hours ? std::log(fitted.hours / *row.hours) : std::log(fitted.capacity_mAh / *row.capacity_mAh);
}

Eigen::VectorXd Residuals::evaluate(const Parameters& parameters) const {
  const Curve curve = curve_of(parameters);
  Eigen::VectorXd result(static_cast<Eigen::Index>(rows_.size()));
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    result[static_cast<Eigen::Index>(i)] = robust(log_residual(rows_[i].place, curve, parameters) / rows_[i].log_sd);
  }
  return result;
}

Eigen::MatrixXd Residuals::derivatives(const Parameters& parameters) const {
  constexpr double little = 1e-5;
  Eigen::MatrixXd result(static_cast<Eigen::Index>(rows_.size()), static_cast<Eigen::Index>(parameter_count));
  const Eigen::VectorXd here = evaluate(parameters);
  for (int k = 0; k < parameter_count; ++k) {
    Parameters beside = parameters;
    beside[k] += little;
    result.col(k) = (evaluate(beside) - here) / little;
  }
  return result;
}

std::vector<FittedPoint> Residuals::points(const Parameters& parameters) const {
  const Curve curve = curve_of(parameters);
  std::vector<FittedPoint> points;
  for (std::size_t place = 0; place < cell_.discharges.size(); ++place) {
    const Discharge& row = cell_.discharges[place];
    FittedPoint point;
    point.published = row.hours ? *row.hours : *row.capacity_mAh;
    point.log_residual = log_residual(place, curve, parameters);
    point.fitted = point.published * std::exp(point.log_residual);
    point.log_sd = log_sd_[place];
    point.in_fit = in_fit_[place];
    points.push_back(point);
  }
  return points;
}

}  // namespace cellarer::cell
