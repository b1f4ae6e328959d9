// SPDX-License-Identifier: MIT
#include "model/cell/fit.hpp"

#include <algorithm>
#include <cmath>

#include <ceres/ceres.h>
#include <Eigen/Cholesky>

#include "model/cell/discharge.hpp"
#include "model/cell/judge.hpp"
#include "model/cell/residuals.hpp"
#include "model/numerics/normal_prior.hpp"

namespace cellarer::cell {

namespace {

class DischargeCost final : public ceres::CostFunction {
 public:
  explicit DischargeCost(const Residuals& residuals) : residuals_(residuals) {
    set_num_residuals(static_cast<int>(residuals.rows()));
    mutable_parameter_block_sizes()->push_back(parameter_count);
  }

  bool Evaluate(double const* const* blocks, double* values, double** jacobians) const override {
    const Parameters parameters = Eigen::Map<const Parameters>(blocks[0]);
    const auto rows = static_cast<Eigen::Index>(residuals_.rows());
    Eigen::Map<Eigen::VectorXd> result(values, rows);
    result = residuals_.evaluate(parameters);
    if (!result.allFinite()) return false;
    if (jacobians != nullptr && jacobians[0] != nullptr) {
      using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
      Eigen::Map<RowMajor>(jacobians[0], rows, parameter_count) = residuals_.derivatives(parameters);
    }
    return true;
  }

 private:
  const Residuals& residuals_;
};

/// A number from the file near the cell's capacity, for a size of which nothing is known.
double capacity_hint_mAh(const PublishedCell& cell) {
  double most = 0;
  for (const Discharge& row : cell.discharges) {
    most = std::max(most, row.hours ? *row.hours * mean_current_mA(row.load, row.cutoff_V) : *row.capacity_mAh);
  }
  return most > 0 ? 1.15 * most : 1000;  // a record without discharges is judged not usable
}

constexpr double widest_sd = 6;  // of the prior, that a parameter may be away from its mean

void solve(const Residuals& residuals, const FamilyPrior& prior, const FitOptions& choice, FitSummary& summary) {
  summary.parameters = choice.start.value_or(prior.mean);
  ceres::Problem problem;
  double* values = summary.parameters.data();
  if (residuals.rows() > 0) problem.AddResidualBlock(new DischargeCost(residuals), nullptr, values);
  problem.AddResidualBlock(numerics::normal_prior_cost(prior.mean, prior.covariance), nullptr, values);
  // Figures that no cell has must not be met by a curve that no cell has: then they fit badly, and are judged so.
  for (int k = 0; k < parameter_count; ++k) {
    const double reach = widest_sd * std::sqrt(prior.covariance(k, k));
    problem.SetParameterLowerBound(values, k, prior.mean[k] - reach);
    problem.SetParameterUpperBound(values, k, prior.mean[k] + reach);
  }
  problem.SetParameterLowerBound(values, fixture_ohm, 0.0);
  problem.SetParameterUpperBound(values, fixture_ohm, 0.2);
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_QR;
  options.max_num_iterations = choice.iterations;
  options.function_tolerance = choice.tolerance;
  options.logging_type = ceres::SILENT;
  ceres::Solver::Summary report;
  ceres::Solve(options, &problem, &report);
  summary.iterations = static_cast<int>(report.iterations.size());
  summary.why_it_stopped = report.message;
  summary.converged = report.termination_type == ceres::CONVERGENCE;
}

void take_covariance(const Residuals& residuals, const FamilyPrior& prior, FitSummary& summary) {
  const Covariance identity = Covariance::Identity();
  Covariance information = prior.covariance.llt().solve(identity);
  if (residuals.rows() > 0) {
    const Eigen::MatrixXd slopes = residuals.derivatives(summary.parameters);
    information += slopes.transpose() * slopes;
  }
  summary.covariance = information.llt().solve(identity);
}

void take_range(const PublishedCell& cell, FitSummary& summary) {
  bool first = true;
  for (std::size_t i = 0; i < cell.discharges.size(); ++i) {
    if (!summary.points[i].in_fit) continue;
    const Discharge& row = cell.discharges[i];
    const double current = mean_current_mA(row.load, row.cutoff_V);
    ValidRange& range = summary.range;
    if (first) range = {current, current, row.cutoff_V, row.cutoff_V, row.temperature_C, row.temperature_C};
    first = false;
    range.lowest_mA = std::min(range.lowest_mA, current);
    range.highest_mA = std::max(range.highest_mA, current);
    range.lowest_cutoff_V = std::min(range.lowest_cutoff_V, row.cutoff_V);
    range.highest_cutoff_V = std::max(range.highest_cutoff_V, row.cutoff_V);
    range.lowest_C = std::min(range.lowest_C, row.temperature_C);
    range.highest_C = std::max(range.highest_C, row.temperature_C);
  }
}

void take_residuals(const Residuals& residuals, FitSummary& summary) {
  summary.points = residuals.points(summary.parameters);
  double sum = 0;
  std::vector<double> sizes;
  for (const FittedPoint& point : summary.points) {
    if (!point.in_fit) continue;
    sum += point.log_residual * point.log_residual;
    sizes.push_back(std::abs(point.log_residual));
    summary.largest_log_residual = std::max(summary.largest_log_residual, std::abs(point.log_residual));
  }
  if (sizes.empty()) return;
  summary.rms_log_residual = std::sqrt(sum / static_cast<double>(sizes.size()));
  std::sort(sizes.begin(), sizes.end());
  summary.typical_log_residual = 1.48 * sizes[sizes.size() / 2];
}

}  // namespace

FitSummary fit(const PublishedCell& cell, const FitOptions& options) {
  FitSummary summary;
  const FamilyPrior family = options.prior ? *options.prior : prior_for(cell.designation, capacity_hint_mAh(cell));
  FamilyPrior prior = with_fixture(family, cell.source);
  prior.covariance(log_capacity, log_capacity) += options.outsider_log_sd * options.outsider_log_sd;
  const Residuals residuals(cell, options, prior.mean);
  solve(residuals, prior, options, summary);
  take_covariance(residuals, prior, summary);
  summary.curve = curve_of(summary.parameters);
  take_residuals(residuals, summary);
  take_range(cell, summary);
  summary.peukert = peukert(cell);
  judge(cell, family, options, summary);
  return summary;
}

double fit_log_sd(const FitSummary& summary, const Load& load, double cutoff_V, const std::optional<Regimen>& regimen,
                  std::optional<double> in_series_ohm) {
  const auto log_hours = [&](const Parameters& p) {
    const Circumstances how{in_series_ohm.value_or(p[fixture_ohm]), slow_share(regimen, std::exp(p[log_tau_min])), 0};
    return std::log(discharge(curve_of(p), load, cutoff_V, how).hours);
  };
  constexpr double half = 1e-4;
  Parameters slope;
  for (int k = 0; k < parameter_count; ++k) {
    Parameters up = summary.parameters, down = summary.parameters;
    up[k] += half;
    down[k] -= half;
    slope[k] = (log_hours(up) - log_hours(down)) / (2 * half);
  }
  return std::sqrt(std::max(0.0, slope.dot(summary.covariance * slope)));
}

}  // namespace cellarer::cell
