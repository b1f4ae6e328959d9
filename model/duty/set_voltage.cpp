// SPDX-License-Identifier: MIT
#include "model/duty/set_voltage.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::duty {

namespace {

/// The set and what a breath asks of it. Currents are in mA, so resistances, of the whole set, are in V/mA.
struct Circuit {
  double open_V;             ///< n U
  double slow;               ///< n R_slow [V/mA]
  double burst_fast;         ///< n seen R_fast [V/mA]
  double rest_fast;          ///< n R_fast [V/mA]
  double burst_mA, rest_mA;  ///< at the reference voltage, times use
  double fraction;
  double reference_V;
};

Circuit circuit(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                double depth) {
  assert(use > 0);
  const double volts_per_mA = 1e-3 * stimulator.cells_in_series;
  const double mean_share = load.burst_mA > 0 ? load.mean_mA() / load.burst_mA : 1;
  const double seen = std::max(stimulator.burst_seen, mean_share);
  const double fast = volts_per_mA * curve.fast_ohm(depth);
  return {.open_V = stimulator.cells_in_series * curve.open_circuit_V(depth),
          .slow = volts_per_mA * curve.slow_ohm(depth),
          .burst_fast = seen * fast,
          .rest_fast = fast,
          .burst_mA = use * load.burst_mA,
          .rest_mA = use * load.rest_mA,
          .fraction = load.fraction,
          .reference_V = stimulator.reference_V};
}

BreathState under_current(const Circuit& c) {
  const double mean_mA = c.fraction * c.burst_mA + (1 - c.fraction) * c.rest_mA;
  const double behind_V = c.open_V - c.slow * mean_mA;
  return {behind_V - c.burst_fast * c.burst_mA, behind_V - c.rest_fast * c.rest_mA, mean_mA};
}

/// Currents are g V: everything is linear, and V_b and V_r are fixed shares of the voltage behind R_fast.
BreathState under_resistance(const Circuit& c) {
  const double burst_g = c.burst_mA / c.reference_V, rest_g = c.rest_mA / c.reference_V;
  const double burst_share = 1 / (1 + c.burst_fast * burst_g), rest_share = 1 / (1 + c.rest_fast * rest_g);
  const double mean_g = c.fraction * burst_g * burst_share + (1 - c.fraction) * rest_g * rest_share;
  const double behind_V = c.open_V / (1 + c.slow * mean_g);
  return {behind_V * burst_share, behind_V * rest_share, behind_V * mean_g};
}

/// V = E - W / V, where W = P R [V^2]: the upper root is the working one. Not a number where E^2 < 4 W.
double fed_V(double behind_V, double power_ohm) {
  return behind_V > 0 ? 0.5 * (behind_V + std::sqrt(behind_V * behind_V - 4 * power_ohm)) : std::nan("");
}

/// Seeks the voltage E behind R_fast: h(E) = E - n U + R_slow I_s(E) = 0. I_s falls and is convex in E, so
/// h is convex, and Newton's method from E = n U (where h >= 0) comes down to the upper root from above.
std::optional<BreathState> under_power(const Circuit& c) {
  const double burst_mW = c.burst_mA * c.reference_V, rest_mW = c.rest_mA * c.reference_V;
  double behind_V = c.open_V;
  for (int step = 0; step < 60; ++step) {
    const double burst_V = fed_V(behind_V, c.burst_fast * burst_mW), rest_V = fed_V(behind_V, c.rest_fast * rest_mW);
    if (!(burst_V > 0 && rest_V > 0)) return std::nullopt;
    const double burst_part = c.fraction * burst_mW / burst_V, rest_part = (1 - c.fraction) * rest_mW / rest_V;
    const double excess = behind_V - c.open_V + c.slow * (burst_part + rest_part);
    // dV/dE = V / (2 V - E), so d(P/V)/dE = -(P/V) / (2 V - E)
    const double slope = 1 - c.slow * (burst_part / (2 * burst_V - behind_V) + rest_part / (2 * rest_V - behind_V));
    if (!(slope > 0)) return std::nullopt;
    const double down = excess / slope;
    if (std::abs(down) < 1e-12) return BreathState{burst_V, rest_V, burst_part + rest_part};
    behind_V -= down;
  }
  return std::nullopt;
}

/// The first depth at which `below` holds, found by the curve's own steps, then by halving.
template <class Below>
double first_depth(Below below) {
  if (below(0.0)) return 0;
  constexpr int steps = static_cast<int>(cell::Curve::points) - 1;
  int step = 1;
  while (step <= steps && !below(static_cast<double>(step) / steps)) ++step;
  if (step > steps) return 1;
  double above = static_cast<double>(step - 1) / steps, reached = static_cast<double>(step) / steps;
  while (reached - above > 1e-13) {
    const double middle = 0.5 * (above + reached);
    (below(middle) ? reached : above) = middle;
  }
  return reached;
}

}  // namespace

std::optional<BreathState> breath_state(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load,
                                        double use, double depth) {
  const Circuit c = circuit(stimulator, curve, load, use, depth);
  switch (stimulator.converter) {
    case Converter::constant_current:
      return under_current(c);
    case Converter::constant_resistance:
      return under_resistance(c);
    case Converter::constant_power:
      return under_power(c);
  }
  assert(false && "a converter of no known kind");
  return std::nullopt;
}

double pacing_V(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                double depth) {
  const auto state = breath_state(stimulator, curve, load, use, depth);
  return state ? state->burst_V : 0;
}

double idle_V(const Stimulator& stimulator, Side side, const cell::Curve& curve, double use, double depth) {
  return pacing_V(stimulator, curve, steady_load(stimulator.side(side).standby_mA), use, depth);
}

double just_on_V(const Stimulator& stimulator, Side side, const cell::Curve& curve, double use, double depth) {
  Circuit c = circuit(stimulator, curve, steady_load(stimulator.side(side).standby_mA), use, depth);
  c.slow = 0;
  // Of standby's few milliamperes the converter changes microvolts here: taken as constant current.
  return under_current(c).burst_V;
}

double off_V(const Stimulator& stimulator, Side side, const cell::Curve& curve, double use, double depth) {
  return under_current(circuit(stimulator, curve, steady_load(stimulator.side(side).off_mA), use, depth)).burst_V;
}

double mean_converter_factor(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                             double depth) {
  const double reference_mA = use * load.mean_mA();
  if (stimulator.converter == Converter::constant_current || !(reference_mA > 0)) return 1;
  if (const auto state = breath_state(stimulator, curve, load, use, depth)) return state->mean_mA / reference_mA;
  const double last_fed = first_depth([&](double x) { return !breath_state(stimulator, curve, load, use, x); }) - 2e-13;
  const auto state = breath_state(stimulator, curve, load, use, last_fed);
  return state ? state->mean_mA / reference_mA : 1;
}

double cutoff_depth(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use) {
  return depth_at_pacing_V(stimulator, curve, load, use, stimulator.cutoff_V);
}

double depth_at_pacing_V(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                         double set_V) {
  return first_depth([&](double depth) {
    const auto state = breath_state(stimulator, curve, load, use, depth);
    return !state || state->burst_V < set_V;
  });
}

}  // namespace cellarer::duty
