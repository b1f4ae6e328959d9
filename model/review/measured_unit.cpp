// SPDX-License-Identifier: MIT
#include "model/review/measured_unit.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <numeric>
#include <set>

namespace cellarer::review {

namespace {

constexpr double least_burst_mA = 0.5, most_burst_mA = 2000, most_set_V = 30;

struct Line {
  double base, slope, error;
};

/// Least squares of base + slope x on relative error; a part below nought is left out.
Line fit_line(const std::vector<BurstMeasurement>& points, const duty::SideElectronics& side, double exponent) {
  double s1 = 0, sx = 0, sxx = 0, sy = 0, sxy = 0;
  const auto x_of = [&](const BurstMeasurement& one) {
    return std::pow(one.amplitude / side.reference_amplitude, exponent);
  };
  for (const auto& one : points) {
    const double weight = 1 / (one.current_mA * one.current_mA), x = x_of(one);
    s1 += weight, sx += weight * x, sxx += weight * x * x;
    sy += weight * one.current_mA, sxy += weight * x * one.current_mA;
  }
  const double determinant = s1 * sxx - sx * sx;
  double slope = determinant > 0 ? (s1 * sxy - sx * sy) / determinant : 0;
  double base = determinant > 0 ? (sy - slope * sx) / s1 : sy / s1;
  if (base < 0) base = 0, slope = sxy / sxx;
  if (slope < 0) slope = 0, base = sy / s1;
  double error = 0;
  for (const auto& one : points) error += std::pow((base + slope * x_of(one)) / one.current_mA - 1, 2);
  return {base, slope, error};
}

void fit_side(duty::SideElectronics& side, const std::vector<BurstMeasurement>& points) {
  std::set<double> amplitudes;
  for (const auto& one : points) amplitudes.insert(one.amplitude);
  if (amplitudes.empty()) return;
  if (amplitudes.size() == 1) {
    double scale = 0;
    for (const auto& one : points) {
      const double expected =
          side.burst_base_mA + side.burst_slope_mA * std::pow(one.amplitude / side.reference_amplitude, side.exponent);
      scale += one.current_mA / expected / static_cast<double>(points.size());
    }
    side.burst_base_mA *= scale;
    side.burst_slope_mA *= scale;
    return;
  }
  if (amplitudes.size() > 2) {
    const auto error = [&](double exponent) { return fit_line(points, side, exponent).error; };
    side.exponent = boost::math::tools::brent_find_minima(error, 0.2, 4.0, 40).first;
  }
  const auto line = fit_line(points, side, side.exponent);
  side.burst_base_mA = line.base;
  side.burst_slope_mA = line.slope;
}

std::string plain(double value) {
  auto text = std::to_string(value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

using Problems = std::vector<MeasurementProblem>;

void look_at_bursts(Problems& problems, const std::vector<BurstMeasurement>& bursts) {
  for (std::size_t i = 0; i < bursts.size(); ++i) {
    const auto& one = bursts[i];
    const auto say = [&](const char* name, const std::string& words) {
      problems.push_back({"bursts/" + std::to_string(i) + '/' + name, words});
    };
    if (!(one.amplitude > 0)) say("amplitude", "An amplitude is above nought.");
    if (!(one.current_mA > 0))
      say("current_mA", "A current is above nought.");
    else if (one.current_mA < least_burst_mA)
      say("current_mA", plain(one.current_mA) + " mA is too little for a burst. If it was read in amperes, write " +
                            plain(one.current_mA * 1000) + " mA.");
    else if (one.current_mA > most_burst_mA)
      say("current_mA", plain(one.current_mA) + " mA is too much for a burst. If it was read in microamperes, write " +
                            plain(one.current_mA / 1000) + " mA.");
  }
}

/// A gauge that shows 1 % or less at every voltage, and not nought at all of them, was written as fractions.
bool in_fractions(const std::vector<GaugeMeasurement>& gauge) {
  double most = 0;
  for (const auto& one : gauge) most = std::max(most, one.percent);
  return most > 0 && most <= 1;
}

void look_at_gauge(Problems& problems, const std::vector<GaugeMeasurement>& gauge) {
  const auto say = [&](std::size_t i, const char* name, const std::string& words) {
    problems.push_back({"gauge/" + std::to_string(i) + '/' + name, words});
  };
  const bool fractions = in_fractions(gauge);
  for (std::size_t i = 0; i < gauge.size(); ++i) {
    const auto& one = gauge[i];
    if (!(one.set_V > 0)) say(i, "set_V", "A voltage of the set is above nought.");
    if (one.set_V > most_set_V)
      say(i, "set_V",
          plain(one.set_V) + " V is too much for a set. If it was read in millivolts, write " +
              plain(one.set_V / 1000) + " V.");
    if (one.percent < 0 || one.percent > 100) say(i, "percent", plain(one.percent) + " % is outside 0 to 100 %.");
    if (fractions && one.percent > 0)
      say(i, "percent",
          "By these points the gauge never shows more than 1 %. If this is a fraction, write " +
              plain(one.percent * 100) + " %.");
  }
  if (gauge.size() == 1) problems.push_back({"gauge", "A gauge needs two points or more."});
  std::vector<std::size_t> falling(gauge.size());
  std::iota(falling.begin(), falling.end(), std::size_t{0});
  std::stable_sort(falling.begin(), falling.end(),
                   [&](std::size_t a, std::size_t b) { return gauge[a].set_V > gauge[b].set_V; });
  for (std::size_t k = 1; k < falling.size(); ++k) {
    const auto &above = gauge[falling[k - 1]], &below = gauge[falling[k]];
    if (below.set_V == above.set_V)
      say(falling[k], "set_V", "There are two points at " + plain(below.set_V) + " V.");
    else if (below.percent >= above.percent)
      say(falling[k], "percent",
          "The gauge does not fall from " + plain(above.set_V) + " V to " + plain(below.set_V) + " V.");
  }
}

}  // namespace

std::vector<MeasurementProblem> problems_of(const BenchMeasurements& measurements) {
  Problems problems;
  look_at_bursts(problems, measurements.bursts);
  look_at_gauge(problems, measurements.gauge);
  const double cutoff = measurements.cutoff_V.value_or(measurements.base.cutoff_V);
  const auto& known = measurements.base.gauge.volts_at_percent;
  double start = measurements.gauge.empty() && !known.empty() ? known.front().second : 0;
  for (const auto& one : measurements.gauge) start = std::max(start, one.set_V);
  if (start > 0 && cutoff >= start)
    problems.push_back({"cutoff_V", "The cut-off of " + plain(cutoff) + " V is not below the " + plain(start) +
                                        " V at which the gauge starts."});
  return problems;
}

MeasuredUnit measured_unit(const BenchMeasurements& measurements) {
  MeasuredUnit measured;
  measured.profile = measurements.base;
  measured.problems = problems_of(measurements);
  if (!measured.usable()) return measured;
  auto& profile = measured.profile;
  profile.basis = "bench";
  profile.cutoff_V = measurements.cutoff_V.value_or(profile.cutoff_V);
  profile.warning_percent = measurements.warning_percent.value_or(profile.warning_percent);
  for (const auto side : both_sides) {
    std::vector<BurstMeasurement> points;
    for (const auto& one : measurements.bursts) {
      if (one.side == side) points.push_back(one);
    }
    auto& electronics = side == Side::left ? profile.left : profile.right;
    fit_side(electronics, points);
    for (const auto& one : points) {
      const double fitted =
          electronics.burst_base_mA +
          electronics.burst_slope_mA * std::pow(one.amplitude / electronics.reference_amplitude, electronics.exponent);
      measured.residuals.push_back(
          {std::string(name_of(side)) + " at amplitude " + plain(one.amplitude), one.current_mA, fitted});
    }
  }
  if (measurements.gauge.empty()) return measured;
  auto points = measurements.gauge;
  std::stable_sort(points.begin(), points.end(), [](const auto& a, const auto& b) { return a.set_V > b.set_V; });
  profile.gauge.volts_at_percent.clear();
  for (const auto& one : points) profile.gauge.volts_at_percent.emplace_back(one.percent, one.set_V);
  return measured;
}

}  // namespace cellarer::review
