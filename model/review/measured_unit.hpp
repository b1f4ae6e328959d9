// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/duty/stimulator.hpp"

namespace cellarer::review {

/// One current of one side measured on the bench at the profile's reference voltage.
struct BurstMeasurement {
  Side side = Side::left;
  double amplitude = 1;   ///< on the unit's own scale
  double current_mA = 0;  ///< during the burst
};

/// What the gauge showed at a voltage of the set.
struct GaugeMeasurement {
  double set_V = 0;
  double percent = 0;
};

/// A unit, or a model of unit, on the bench. What was not measured is taken from `base`.
struct BenchMeasurements {
  std::string serial;  ///< empty: of a model of unit
  duty::Stimulator base;
  std::vector<BurstMeasurement> bursts;
  std::vector<GaugeMeasurement> gauge;
  std::optional<double> cutoff_V, warning_percent;
};

/// What is wrong with measurements. Nothing is corrected: the words say what was probably meant.
struct MeasurementProblem {
  std::string field;  ///< "bursts/1/current_mA", "gauge/0/percent", "cutoff_V", ...
  std::string words;
};

struct Residual {
  std::string what;
  double measured = 0, fitted = 0;
  double relative() const { return measured != 0 ? fitted / measured - 1 : 0; }
};

/// A stimulator profile from measurements:
///
///     I(a) = I_0 + I_1 (a / a_ref)^g     least squares on relative error; g by golden section in 0.2 to 4, I_0 and I_1
///                                        in closed form, neither below nought
///
/// Two amplitudes keep the base's g, one its shape as well (all scaled). The gauge's points are the measured ones, by
/// voltage. `usable` is false where there are problems.
struct MeasuredUnit {
  duty::Stimulator profile;
  std::vector<Residual> residuals;
  std::vector<MeasurementProblem> problems;
  bool usable() const { return problems.empty(); }
};

MeasuredUnit measured_unit(const BenchMeasurements& measurements);

/// Told by magnitude: amperes given as milliamperes (a tenth of a milliampere or less is no burst current),
/// microamperes (over 2 A), millivolts as volts, a gauge in fractions, one that rises as the voltage falls, points
/// outside 0 to 100 %, a cut-off above where the gauge starts.
std::vector<MeasurementProblem> problems_of(const BenchMeasurements& measurements);

}  // namespace cellarer::review
