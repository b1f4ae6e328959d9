// SPDX-License-Identifier: MIT
#pragma once
#include "model/duty/settings.hpp"
#include "model/duty/stimulator.hpp"

/// From what the clinician set to what the electronics draw.
namespace cellarer::duty {

/// The load within one breath, currents at the profile's reference voltage [mA].
///
///     I_m = f I_b + (1 - f) I_rest,    f = r Ti / 60
///
///   I_b  burst current while the transmitter works (inspiration);  I_rest  between bursts, electronics only
///   r    rate [breaths/min];  Ti  inspiratory time [s];  f  the share of the breath that is burst
struct BreathLoad {
  double burst_mA = 0;  ///< during inspiration
  double rest_mA = 0;   ///< between
  double fraction = 0;  ///< f = r Ti / 60, the share of the breath that is burst
  double mean_mA() const { return fraction * burst_mA + (1 - fraction) * rest_mA; }
};

/// Burst current at amplitude `a`: I_b = I_0 + I_1 (a / a_ref)^g  [mA]. `amplitude` > 0, on the unit's scale.
double burst_current_mA(const SideElectronics& electronics, double amplitude);

/// The load while pacing with these settings.
BreathLoad pacing_load(const SideElectronics& electronics, const Settings& settings);

/// A load without bursts, as in standby or switched off: burst = rest = that current, fraction 0.
BreathLoad steady_load(double current_mA);

/// The factor by which a converter's current differs from its reference at the set's voltage: 1,
/// V_ref / V or V / V_ref. Both voltages > 0. Where the voltage itself depends on the current, use
/// set_voltage.hpp, which solves the two together.
double converter_factor(Converter converter, double reference_V, double set_V);

}  // namespace cellarer::duty
