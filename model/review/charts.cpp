// SPDX-License-Identifier: MIT
#include "model/review/charts.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::review {

std::vector<EwmaPoint> ewma(const std::vector<double>& values, const EwmaDesign& design) {
  std::vector<EwmaPoint> points;
  points.reserve(values.size());
  double value = design.target, left = 1;
  for (const double x : values) {
    value = design.weight * x + (1 - design.weight) * value;
    left *= (1 - design.weight) * (1 - design.weight);
    const double variance = design.weight / (2 - design.weight) * (design.asymptotic ? 1 : 1 - left);
    const double reach = design.width * design.sd * std::sqrt(variance);
    points.push_back({value, design.target - reach, design.target + reach, std::abs(value - design.target) > reach});
  }
  return points;
}

std::vector<CusumPoint> cusum(const std::vector<double>& values, const CusumDesign& design) {
  std::vector<CusumPoint> points;
  points.reserve(values.size());
  const double slack = design.k * design.sd;
  CusumPoint point;
  for (const double x : values) {
    point.high = std::max(0.0, point.high + x - design.target - slack);
    point.low = std::max(0.0, point.low - x + design.target - slack);
    point.signal = std::max(point.high, point.low) > design.h * design.sd;
    points.push_back(point);
  }
  return points;
}

}  // namespace cellarer::review
