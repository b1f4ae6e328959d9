// SPDX-License-Identifier: MIT
#include "model/life/gauge.hpp"

#include <cassert>
#include <cstddef>
#include <limits>

namespace cellarer::life {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// Index of the upper of the two points whose line serves this voltage. The points fall in voltage.
std::size_t line_for(const duty::Gauge& gauge, double set_V) {
  assert(gauge.volts_at_percent.size() >= 2);
  std::size_t upper = 0;
  while (upper + 2 < gauge.volts_at_percent.size() && set_V < gauge.volts_at_percent[upper + 1].second) ++upper;
  return upper;
}

}  // namespace

GaugeLines::GaugeLines(const duty::Gauge& gauge) {
  const auto& points = gauge.volts_at_percent;
  assert(points.size() >= 2);
  lines_.reserve(points.size() - 1);
  for (std::size_t upper = 0; upper + 1 < points.size(); ++upper) {
    const auto [high_percent, high_V] = points[upper];
    const auto [low_percent, low_V] = points[upper + 1];
    const bool last = upper + 2 == points.size();
    lines_.push_back({last ? -infinity : low_V, high_percent, high_V, (high_percent - low_percent) / (high_V - low_V)});
  }
}

double gauge_percent(const duty::Gauge& gauge, double set_V) {
  const auto upper = line_for(gauge, set_V);
  const auto [high_percent, high_V] = gauge.volts_at_percent[upper];
  const auto [low_percent, low_V] = gauge.volts_at_percent[upper + 1];
  return high_percent + (set_V - high_V) * ((high_percent - low_percent) / (high_V - low_V));
}

double gauge_volts(const duty::Gauge& gauge, double percent) {
  const auto& points = gauge.volts_at_percent;
  std::size_t upper = 0;
  while (upper + 2 < points.size() && percent < points[upper + 1].first) ++upper;
  const auto [high_percent, high_V] = points[upper];
  const auto [low_percent, low_V] = points[upper + 1];
  return high_V + (percent - high_percent) * (high_V - low_V) / (high_percent - low_percent);
}

PercentSpan span_of_percent(double percent) {
  constexpr double half = 0.5;
  return {percent <= half ? -infinity : percent - half, percent >= 100 - half ? infinity : percent + half};
}

PercentSpan span_of_step(int step, int of) {
  assert(of > 0 && step >= 0 && step <= of);
  const double width = 100.0 / of;
  return {step == 0 ? -infinity : (step - 1) * width, step == of ? infinity : step * width};
}

}  // namespace cellarer::life
