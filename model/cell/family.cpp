// SPDX-License-Identifier: MIT
#include "model/cell/family.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace cellarer::cell {

namespace {

constexpr std::size_t steps = Curve::points - 1;
constexpr double most_log_ratio = 9.2;  // R grows ten thousandfold at most: keeps absurd parameters finite

/// Linear between knots; the knots cover 0..1, and `depth` is walked upwards, so `segment` only grows.
template <std::size_t count>
double between_knots(const std::array<double, count>& knots, const double* values, double depth, std::size_t& segment) {
  while (segment + 2 < count && depth > knots[segment + 1]) ++segment;
  const double share = (depth - knots[segment]) / (knots[segment + 1] - knots[segment]);
  return values[segment] + share * (values[segment + 1] - values[segment]);
}

/// Correlation of two knots: near ones move together. Depth is stretched at the fresh end, where U is steep.
double kernel(double a, double b, double length) {
  const double distance = (std::sqrt(a + 0.02) - std::sqrt(b + 0.02)) / length;
  return std::exp(-0.5 * distance * distance);
}

template <std::size_t count>
void fill_block(Covariance& covariance, int first, const std::array<double, count>& knots, double sd, double length) {
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = 0; j < count; ++j) {
      const double own = i == j ? 0.05 : 0.0;  // of the variance; keeps the block well conditioned
      covariance(first + static_cast<int>(i), first + static_cast<int>(j)) =
          sd * sd * (kernel(knots[i], knots[j], length) + own);
    }
  }
}

}  // namespace

Curve curve_of(const Parameters& parameters) {
  Curve::Table open_V, slow_ohm, fast_ohm;
  const double step = 1.0 / static_cast<double>(steps);
  const double fresh_ohm = std::exp(parameters[log_fresh_ohm]);
  const double fast_fresh_ohm = std::exp(parameters[log_fast_ohm]);
  double open = parameters[fresh_V], log_ratio = 0;
  std::size_t fall_segment = 0, growth_segment = 0;
  for (std::size_t j = 0; j <= steps; ++j) {
    const double root = std::exp(0.5 * log_ratio);
    const double total = fresh_ohm * root * root;
    const double fast = std::min(fast_fresh_ohm * root, 0.9 * total);
    open_V[j] = open;
    fast_ohm[j] = fast;
    slow_ohm[j] = total - fast;
    if (j == steps) break;
    const double middle = (static_cast<double>(j) + 0.5) * step;
    open -= step * std::exp(between_knots(fall_knots, &parameters[log_fall], middle, fall_segment));
    log_ratio += step * std::exp(between_knots(growth_knots, &parameters[log_growth], middle, growth_segment));
    log_ratio = std::min(log_ratio, most_log_ratio);
  }
  return Curve(std::exp(parameters[log_capacity]), open_V, slow_ohm, fast_ohm);
}

std::string name_of_parameter(int index) {
  char text[40];
  if (index >= log_fall && index < log_growth) {
    std::snprintf(text, sizeof text, "ln fall at %.2f", fall_knots[static_cast<std::size_t>(index - log_fall)]);
    return text;
  }
  if (index >= log_growth && index < fixture_ohm) {
    std::snprintf(text, sizeof text, "ln growth at %.2f", growth_knots[static_cast<std::size_t>(index - log_growth)]);
    return text;
  }
  switch (index) {
    case log_capacity:
      return "ln capacity [mAh]";
    case fresh_V:
      return "fresh open-circuit voltage [V]";
    case log_fresh_ohm:
      return "ln fresh resistance [ohm]";
    case fixture_ohm:
      return "fixture [ohm]";
    case log_fast_ohm:
      return "ln fresh fast resistance [ohm]";
    default:
      return "ln slow time constant [min]";
  }
}

FamilyPrior vague_lr6_prior() {
  FamilyPrior prior;
  // The fall of U: steep at first, then after the voltages at rest of Texas Instruments SLVA194 (1.59, 1.38, 1.30,
  // 1.23, 1.10 V at 100, 80, 50, 20, 0 % left). R: from the published capacities at 25, 100, 500 and 1000 mA to
  // 0.8 V (E91), at whose ends U stands between 1.1 and 1.3 V.
  prior.mean << std::log(3100.0), 1.59, std::log(0.30), std::log(9.0), std::log(3.0), std::log(1.2), std::log(0.55),
      std::log(0.30), std::log(0.25), std::log(0.25), std::log(0.40), std::log(0.70), std::log(1.5), std::log(2.0),
      std::log(2.8), std::log(3.5), std::log(4.0), std::log(5.0), std::log(7.0), std::log(9.0), 0.10, std::log(0.2),
      std::log(30.0);
  prior.covariance.setZero();
  const auto variance = [&](int index, double sd) { prior.covariance(index, index) = sd * sd; };
  variance(log_capacity, 0.04);  // both published cells reach 3000 mAh at 25 mA; brands differ less here than at 100 mA
  variance(fresh_V, 0.02);
  variance(log_fresh_ohm, 0.35);
  fill_block(prior.covariance, log_fall, fall_knots, 0.25, 0.35);
  fill_block(prior.covariance, log_growth, growth_knots, 0.35, 0.35);
  variance(fixture_ohm, 0.05);  // 0 to 0.2 ohm; `with_fixture` says more for a source
  variance(log_fast_ohm, 0.2);  // fresh LR6 0.15 to 0.30 ohm (E91 data sheet)
  variance(log_tau_min, 0.7);   // about 30 minutes, within a factor of two either way
  return prior;
}

FamilyPrior with_fixture(FamilyPrior prior, const Source& source) {
  double mean = source.basis == Basis::measured ? 0.10 : 0.01, sd = source.basis == Basis::measured ? 0.05 : 0.02;
  if (source.fixture_ohm) mean = *source.fixture_ohm, sd = 0.015;
  prior.covariance.row(fixture_ohm).setZero();
  prior.covariance.col(fixture_ohm).setZero();
  prior.covariance(fixture_ohm, fixture_ohm) = sd * sd;
  prior.mean[fixture_ohm] = mean;
  return prior;
}

bool is_alkaline(const std::string& designation) {
  // A number in front counts cells in series ("6LR61"), which has another voltage: not one cell.
  return designation.size() > 2 && designation.compare(0, 2, "LR") == 0 && designation[2] >= '0' &&
         designation[2] <= '9';
}

bool is_rechargeable(const std::string& designation) {
  for (const char* letters : {"HR", "KR", "HFR", "ZR", "ICR", "IFR", "IMR", "INR", "NCR", "HRMR", "HRM", "KRMR", "KRM",
                              "HH", "NH", "NiMH", "NiCd", "Li-ion"}) {
    const std::string start(letters);
    if (designation.compare(0, start.size(), start) == 0) return true;
  }
  return false;
}

FamilyPrior prior_for(const std::string& designation, double hint_mAh) {
  FamilyPrior prior = lr6_prior();
  if (designation == "LR6") return prior;
  // Usual capacities at low drain of the round sizes (makers' data sheets, from memory, rounded).
  const struct {
    const char* designation;
    double mAh;
  } sizes[] = {{"LR03", 1200}, {"LR14", 7800}, {"LR20", 16500}, {"LR1", 900}, {"LR8D425", 600}, {"LR61", 600}};
  double capacity = hint_mAh, log_sd = 0.5;
  for (const auto& size : sizes) {
    if (designation == size.designation) capacity = size.mAh, log_sd = 0.15;
  }
  const double log_ratio = std::log(capacity) - prior.mean[log_capacity];
  prior.mean[log_capacity] += log_ratio;
  prior.mean[log_fresh_ohm] -= log_ratio;
  prior.mean[log_fast_ohm] -= log_ratio;
  prior.covariance(log_capacity, log_capacity) += log_sd * log_sd;
  prior.covariance(log_fresh_ohm, log_fresh_ohm) += 0.3 * 0.3;
  prior.covariance(log_fast_ohm, log_fast_ohm) += 0.3 * 0.3;
  return prior;
}

}  // namespace cellarer::cell
