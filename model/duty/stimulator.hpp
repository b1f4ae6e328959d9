// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "model/quantities/side.hpp"

/// What the electronics draw and show. A profile describes a model of unit; nothing in it belongs to one
/// maker, so any unit fits.
namespace cellarer::duty {

/// How the current drawn from the set depends on the set's voltage V, against `reference_V`:
/// constant current: I = I_ref;  constant power: I = I_ref V_ref / V;  constant resistance: I = I_ref V / V_ref.
enum class Converter { constant_current, constant_power, constant_resistance };

/// Currents of one side's electronics, drawn from the set at `reference_V` [mA].
/// burst current I_b(a) = burst_base + burst_slope (a / reference_amplitude)^exponent.
struct SideElectronics {
  double burst_base_mA = 0;
  double burst_slope_mA = 0;
  double reference_amplitude = 1;  ///< on the unit's own scale, > 0
  double exponent = 1;             ///< 0.2 to 4
  double rest_mA = 0;              ///< between bursts while pacing
  double standby_mA = 0;           ///< switched on, not pacing (outside the spans)
  double off_mA = 0;               ///< switched off
  bool operator==(const SideElectronics&) const = default;
};

/// What the unit shows of the set's voltage.
struct Gauge {
  std::optional<int>
      steps;  ///< a gauge of N steps; none: percent. Step k covers (100 (k-1)/N, 100 k/N] percent, 0 none
  std::vector<std::pair<double, double>> volts_at_percent;  ///< falling, of the whole set [%, V]
  double noise_points = 4;           ///< standard deviation of the correlated noise [points of percent]
  double bias_points = 3;            ///< between units of this profile [points of percent]
  bool reads_high_after_on = false;  ///< a reading just after switching on says little
  bool latches = false;  ///< it stays at the lowest that it showed while pacing, also when the unit idles or is off
  bool operator==(const Gauge&) const = default;
};

struct Stimulator {
  std::string id;
  std::string basis;  ///< "invented", "bench", ...
  int cells_in_series = 2;
  double cutoff_V = 1.9;     ///< of the set: below it the side stops
  double reference_V = 2.5;  ///< of the set: where the currents are given
  Converter converter = Converter::constant_current;
  SideElectronics left, right;
  double relative_sd = 0.06;  ///< between units of this profile, of the current
  double burst_seen = 0.5;    ///< 0: the input capacitor hides the burst, 1: the converter sees all of it
  Gauge gauge;
  double warning_percent = 10;  ///< of the gauge, where the unit's own warning sounds

  const SideElectronics& side(Side which) const { return which == Side::left ? left : right; }
  bool operator==(const Stimulator&) const = default;
};

}  // namespace cellarer::duty
