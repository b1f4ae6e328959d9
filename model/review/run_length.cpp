// SPDX-License-Identifier: MIT
#include <Eigen/Dense>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "model/life/normal.hpp"
#include "model/review/charts.hpp"

namespace cellarer::review {

namespace {

constexpr std::size_t node_count = 40;

struct Quadrature {
  std::vector<double> at, weight;
};

/// Gauss-Legendre on (low, high). Boost keeps the half of the nodes that is not negative.
Quadrature nodes(double low, double high) {
  using Gauss = boost::math::quadrature::gauss<double, node_count>;
  Quadrature quadrature;
  const double middle = (low + high) / 2, half = (high - low) / 2;
  for (std::size_t i = 0; i < Gauss::abscissa().size(); ++i) {
    for (const int sign : {-1, 1}) {
      quadrature.at.push_back(middle + sign * half * Gauss::abscissa()[i]);
      quadrature.weight.push_back(half * Gauss::weights()[i]);
    }
  }
  return quadrature;
}

}  // namespace

double cusum_run_length(double k, double h, double shift) {
  // L(s) = 1 + L(0) P(x <= k - s) + integral from 0 to h of L(t) phi(t - s + k - shift) dt; L(0) is one more unknown.
  const auto quadrature = nodes(0, h);
  const auto count = static_cast<Eigen::Index>(quadrature.at.size());
  Eigen::MatrixXd system = Eigen::MatrixXd::Identity(count + 1, count + 1);
  for (Eigen::Index i = 0; i <= count; ++i) {
    const double s = i == 0 ? 0 : quadrature.at[static_cast<std::size_t>(i - 1)];
    system(i, 0) -= life::normal_below(k - s - shift);
    for (Eigen::Index j = 1; j <= count; ++j) {
      const auto at = static_cast<std::size_t>(j - 1);
      system(i, j) -= quadrature.weight[at] * life::normal_density(quadrature.at[at] - s + k - shift);
    }
  }
  return system.partialPivLu().solve(Eigen::VectorXd::Ones(count + 1))[0];
}

double cusum_run_length_two_sided(double k, double h, double shift) {
  return 1 / (1 / cusum_run_length(k, h, shift) + 1 / cusum_run_length(k, h, -shift));
}

double ewma_run_length(double weight, double width, double shift) {
  // L(u) = 1 + 1 / weight integral over the limits of L(t) phi((t - (1 - weight) u) / weight - shift) dt
  const double limit = width * std::sqrt(weight / (2 - weight));
  const auto quadrature = nodes(-limit, limit);
  const auto count = static_cast<Eigen::Index>(quadrature.at.size());
  Eigen::MatrixXd system = Eigen::MatrixXd::Identity(count, count);
  const auto kernel = [&](double from, std::size_t to) {
    return quadrature.weight[to] / weight *
           life::normal_density((quadrature.at[to] - (1 - weight) * from) / weight - shift);
  };
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j)
      system(i, j) -= kernel(quadrature.at[static_cast<std::size_t>(i)], static_cast<std::size_t>(j));
  }
  const Eigen::VectorXd lengths = system.partialPivLu().solve(Eigen::VectorXd::Ones(count));
  double from_start = 1;
  for (Eigen::Index j = 0; j < count; ++j) from_start += kernel(0, static_cast<std::size_t>(j)) * lengths[j];
  return from_start;
}

}  // namespace cellarer::review
