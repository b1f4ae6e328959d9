// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/duty/settings.hpp"
#include "model/duty/stimulator.hpp"
#include "tests/bench/world/discharge_table.hpp"

/// What a side's electronics really draw, and what that does to the cells: written anew, not model/duty.
namespace cellarer::bench {

/// Currents at the reference voltage [mA], before use.
struct TrueLoad {
  double burst_mA = 0, rest_mA = 0;
  double fraction = 0;  ///< of the breath that is burst
  double mean_mA() const { return fraction * burst_mA + (1 - fraction) * rest_mA; }
};

/// While pacing: burst = base + slope (amplitude / reference)^exponent, the exponent being the truth's.
TrueLoad pacing_load_of(const duty::SideElectronics& electronics, const duty::Settings& settings, double exponent);
inline TrueLoad standby_load_of(const duty::SideElectronics& electronics) {
  return {electronics.standby_mA, electronics.standby_mA, 0};
}

/// The effective current that decides the voltage of the cells [mA at the reference voltage]:
///     I_e = I_m + phi (max(seen I_b, I_m) - I_m)
double effective_mA(const TrueLoad& load, double burst_seen, double burst_share);

/// Current drawn over that at the reference voltage, at the set's voltage.
double converter_draw(duty::Converter converter, double reference_V, double set_V);

/// A cell of nominal capacity under one load, tabulated by its voltage in the bursts at steps of 2.5 mV.
///
///     y(V) = Q(V, u I_e),   dy/dt = u I_m / C,   I_m = f I_b c(V) + (1 - f) I_r c(V_r)
///
///   y    charge given per capacity factor C [mAh]    u   relative use    c   converter_draw    f   share of the burst
///   V_r  voltage in the rests, that of an effective current below the mean by the same share of the difference
///
/// Since Q goes with the power 1 - k of the current, use is taken out: with z = y u^(k - 1) the voltage is V(z) and the
/// side's hours h(z) at use 1 move by u^k / C an hour. k is that of the load's own current in mid-life: exact while the
/// current stays between 10 and 100 mA.
class LoadTable {
 public:
  LoadTable(const DischargeTable& cell, const duty::Stimulator& unit, const TrueLoad& load, double burst_share);

  double exponent() const { return exponent_; }
  double hours_at(double z) const;     ///< h(z) [h at use 1], of a fresh cell
  double z_after(double hours) const;  ///< its inverse
  double set_V(double z) const;        ///< of the whole set
  double z_at(double set_V) const;     ///< z until the set falls to that voltage

 private:
  double cells_, exponent_ = 0;
  std::vector<double> volts_, z_, hours_;  ///< of one cell, falling; z and hours rise
};

}  // namespace cellarer::bench
