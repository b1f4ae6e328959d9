// SPDX-License-Identifier: MIT
#include "model/review/weibull.hpp"

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <set>

namespace cellarer::review {

namespace {

/// Sums over all services of t^b (ln t)^n, for n = 0, 1, 2, with t over a typical life so that nothing overflows.
struct PowerSums {
  double zero = 0, one = 0, two = 0;
};

PowerSums power_sums(const std::vector<Service>& services, double shape, double unit_days) {
  PowerSums sums;
  for (const auto& service : services) {
    const double log_t = std::log(service.days / unit_days), power = std::exp(shape * log_t);
    sums.zero += power;
    sums.one += power * log_t;
    sums.two += power * log_t * log_t;
  }
  return sums;
}

}  // namespace

double WeibullFit::median_days() const { return scale_days * std::pow(std::log(2.0), 1 / shape); }

std::optional<WeibullFit> fit_weibull(const std::vector<Service>& services) {
  std::set<double> lives;
  double log_sum = 0, longest = 0;
  WeibullFit fit;
  for (const auto& service : services) {
    if (service.days <= 0) continue;
    longest = std::max(longest, service.days);
    ++fit.in_all;
    if (!service.worn_out) continue;
    ++fit.worn_out;
    lives.insert(service.days);
    log_sum += std::log(service.days);
  }
  if (lives.size() < 2) return std::nullopt;
  std::vector<Service> all;
  for (const auto& service : services) {
    if (service.days > 0) all.push_back(service);
  }
  const double failures = fit.worn_out, mean_log = log_sum / failures - std::log(longest);
  const auto score = [&](double log_shape) {
    const double shape = std::exp(log_shape);
    const auto sums = power_sums(all, shape, longest);
    return sums.one / sums.zero - 1 / shape - mean_log;
  };
  // The score rises with the shape, from below nought to above.
  double low = -5, high = 5;
  if (score(high) < 0) return std::nullopt;
  std::uintmax_t steps = 200;
  const auto bracket =
      boost::math::tools::toms748_solve(score, low, high, boost::math::tools::eps_tolerance<double>(45), steps);
  const double b = fit.shape = std::exp((bracket.first + bracket.second) / 2);
  const auto sums = power_sums(all, b, longest);
  const double relative = std::pow(sums.zero / failures, 1 / b);  // scale over the longest life
  fit.scale_days = longest * relative;
  const double log_scale = std::log(relative);
  fit.log_likelihood = failures * (std::log(b) - b * std::log(fit.scale_days)) + (b - 1) * log_sum - failures;
  // Observed information in (ln scale, ln shape), u = ln(t / scale), sums of z = (t / scale)^b: at the maximum sum z is
  // the number of the worn out.
  const double z0 = failures;
  const double per = std::pow(relative, -b);
  const double z1 = per * (sums.one - log_scale * sums.zero);
  const double z2 = per * (sums.two - 2 * log_scale * sums.one + log_scale * log_scale * sums.zero);
  const double i_ss = b * b * z0;
  const double i_bb = failures + b * b * z2;
  const double i_sb = -b * b * z1;
  const double determinant = i_ss * i_bb - i_sb * i_sb;
  constexpr double z_95 = 1.959963984540054;
  const double scale_sd = std::sqrt(i_bb / determinant), shape_sd = std::sqrt(i_ss / determinant);
  fit.shape_95 = {b * std::exp(-z_95 * shape_sd), b * std::exp(z_95 * shape_sd)};
  fit.scale_95_days = {fit.scale_days * std::exp(-z_95 * scale_sd), fit.scale_days * std::exp(z_95 * scale_sd)};
  return fit;
}

}  // namespace cellarer::review
