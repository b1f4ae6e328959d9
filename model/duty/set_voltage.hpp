// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "model/cell/curve.hpp"
#include "model/duty/load.hpp"

/// The voltage of a set of cells under what a side draws, in each condition in which someone may look.
///
///     burst   V_b = n (U - I_s R_slow - seen c_b I_b R_fast)        what cut-off and the gauge are judged by
///     rest    V_r = n (U - I_s R_slow -      c_r I_r R_fast)
///     mean    I_s = f c_b I_b + (1 - f) c_r I_r,   c_b = c(V_b),  c_r = c(V_r)      (load.hpp: converter_factor)
///
///   n     cells in series                    U, R_slow, R_fast   of one cell, at depth x (model/cell/curve.hpp)
///   I_b, I_r   burst and rest current at the reference voltage [mA], times the side's relative use
///   f     share of the breath that is burst  seen                share of the burst that reaches the cells
///
/// A breath is seconds, the slow current's memory half an hour: I_s is the mean of the breath (shown against
/// breath-by-breath integration in tests/reference). Voltage and current are solved together: in closed
/// form for constant current and resistance, by Newton's method for constant power, to 1e-12 V.
///
/// `seen` is the profile's `burst_seen`, but never less than I_m / I_b: however large the unit's input
/// capacitor, the mean current flows through the cells. So a steady load sees R_slow + R_fast, as a
/// continuous discharge does.
///
/// A constant-power converter can be fed only while E^2 >= 4 P R (E the voltage behind R): below that no
/// current gives the power, and the voltage collapses.
///
/// `use` is the side's relative use, > 0: 1.05 draws 5 % more than the profile says. `depth` is 0 fresh to 1.
namespace cellarer::duty {

/// One breath at one depth. Currents drawn from the set [mA], voltages of the whole set [V].
struct BreathState {
  double burst_V = 0;
  double rest_V = 0;
  double mean_mA = 0;
};

/// None where a constant-power converter can no longer be fed.
std::optional<BreathState> breath_state(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load,
                                        double use, double depth);

/// Set voltage in the bursts of steady pacing [V]; 0 where the converter can no longer be fed.
double pacing_V(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                double depth);

/// Set voltage switched on but not pacing, half an hour or more after the last breath [V].
double idle_V(const Stimulator& stimulator, Side side, const cell::Curve& curve, double use, double depth);

/// Set voltage just after switching on: the cells have rested, only R_fast is seen [V].
double just_on_V(const Stimulator& stimulator, Side side, const cell::Curve& curve, double use, double depth);

/// Set voltage switched off for a while [V].
double off_V(const Stimulator& stimulator, Side side, const cell::Curve& curve, double use, double depth);

/// The mean current over that at the reference voltage: dx = use * factor * (reference charge) / Q. Held at
/// its last value beyond the depth at which the converter can no longer be fed (at 1 if it never can).
double mean_converter_factor(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                             double depth);

/// The first depth at which the burst's set voltage falls below the unit's cut-off, or at which the
/// converter can no longer be fed; 1 where neither comes before the charge is spent, 0 where even a fresh
/// set is below. Within 1e-12 of the curve's own interpolation.
double cutoff_depth(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use);

/// The same for any set voltage, the unit's warning for instance: the first depth at which pacing_V is
/// below `set_V`.
double depth_at_pacing_V(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use,
                         double set_V);

}  // namespace cellarer::duty
