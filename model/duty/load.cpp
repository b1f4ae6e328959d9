// SPDX-License-Identifier: MIT
#include "model/duty/load.hpp"

#include <cassert>
#include <cmath>

namespace cellarer::duty {

double burst_current_mA(const SideElectronics& electronics, double amplitude) {
  assert(amplitude > 0 && electronics.reference_amplitude > 0);
  const double relative = amplitude / electronics.reference_amplitude;
  return electronics.burst_base_mA + electronics.burst_slope_mA * std::pow(relative, electronics.exponent);
}

BreathLoad pacing_load(const SideElectronics& electronics, const Settings& settings) {
  assert(settings.inspiratory_fraction > 0 && settings.inspiratory_fraction < 1);
  return {.burst_mA = burst_current_mA(electronics, settings.amplitude),
          .rest_mA = electronics.rest_mA,
          .fraction = settings.inspiratory_fraction};
}

BreathLoad steady_load(double current_mA) { return {.burst_mA = current_mA, .rest_mA = current_mA, .fraction = 0}; }

double converter_factor(Converter converter, double reference_V, double set_V) {
  assert(reference_V > 0 && set_V > 0);
  switch (converter) {
    case Converter::constant_current:
      return 1;
    case Converter::constant_power:
      return reference_V / set_V;
    case Converter::constant_resistance:
      return set_V / reference_V;
  }
  assert(false && "a converter of no known kind");
  return 1;
}

}  // namespace cellarer::duty
