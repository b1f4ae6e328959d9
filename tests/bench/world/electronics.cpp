// SPDX-License-Identifier: MIT
#include "tests/bench/world/electronics.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::bench {

namespace {

constexpr double step_V = 0.0025;  ///< of one cell

/// Value of `to` where `from` (rising) stands at `at`; held at the ends.
double looked_up(const std::vector<double>& from, const std::vector<double>& to, double at) {
  if (at <= from.front()) return to.front();
  if (at >= from.back()) return to.back();
  const auto above = static_cast<std::size_t>(std::upper_bound(from.begin(), from.end(), at) - from.begin());
  const double share = (at - from[above - 1]) / (from[above] - from[above - 1]);
  return to[above - 1] + share * (to[above] - to[above - 1]);
}

}  // namespace

TrueLoad pacing_load_of(const duty::SideElectronics& electronics, const duty::Settings& settings, double exponent) {
  const double relative = settings.amplitude / electronics.reference_amplitude;
  return {electronics.burst_base_mA + electronics.burst_slope_mA * std::pow(relative, exponent), electronics.rest_mA,
          settings.inspiratory_fraction};
}

double effective_mA(const TrueLoad& load, double burst_seen, double burst_share) {
  const double mean = load.mean_mA();
  return mean + burst_share * (std::max(burst_seen * load.burst_mA, mean) - mean);
}

double converter_draw(duty::Converter converter, double reference_V, double set_V) {
  switch (converter) {
    case duty::Converter::constant_power:
      return reference_V / set_V;
    case duty::Converter::constant_resistance:
      return set_V / reference_V;
    case duty::Converter::constant_current:
      break;
  }
  return 1;
}

LoadTable::LoadTable(const DischargeTable& cell, const duty::Stimulator& unit, const TrueLoad& load, double burst_share)
    : cells_(unit.cells_in_series) {
  const auto draw = [&](double volts) { return converter_draw(unit.converter, unit.reference_V, cells_ * volts); };
  const bool rest_differs = load.fraction > 0 && unit.converter != duty::Converter::constant_current;
  const auto steps = static_cast<std::size_t>((DischargeTable::fresh_V - cell.lowest_V()) / step_V + 1e-9);
  double before_mA = 0, rest_V = DischargeTable::fresh_V;
  for (std::size_t i = 0; i <= steps; ++i) {
    const double volts = DischargeTable::fresh_V - static_cast<double>(i) * step_V;
    // The rest's voltage moves with the burst's: the one of the step before serves, a step higher.
    TrueLoad drawn{load.burst_mA * draw(volts), load.rest_mA * draw(rest_differs ? rest_V : volts), load.fraction};
    const double effective = effective_mA(drawn, unit.burst_seen, burst_share);
    const double charge = cell.charge_mAh(volts, effective);
    if (rest_differs) {
      rest_V = cell.volts(charge, drawn.mean_mA() + burst_share * (drawn.rest_mA - drawn.mean_mA()), rest_V);
      drawn.rest_mA = load.rest_mA * draw(rest_V);
    }
    const double mean_mA = drawn.mean_mA();
    const double width = i == 0 ? 0 : std::max(charge - z_.back(), 1e-9);
    volts_.push_back(volts);
    z_.push_back(i == 0 ? 0 : z_.back() + width);
    hours_.push_back(i == 0 ? 0 : hours_.back() + 0.5 * width * (1 / before_mA + 1 / mean_mA));
    before_mA = mean_mA;
    if (exponent_ == 0 && volts <= 1.2) exponent_ = cell.exponent(volts, effective);
  }
}

double LoadTable::hours_at(double z) const { return looked_up(z_, hours_, z); }

double LoadTable::z_after(double hours) const { return looked_up(hours_, z_, hours); }

double LoadTable::set_V(double z) const { return cells_ * looked_up(z_, volts_, z); }

double LoadTable::z_at(double set_V) const {
  const double place = (DischargeTable::fresh_V - set_V / cells_) / step_V;
  if (place <= 0) return 0;
  const auto index = static_cast<std::size_t>(place);
  if (index + 1 >= z_.size()) return z_.back();
  return z_[index] + (place - static_cast<double>(index)) * (z_[index + 1] - z_[index]);
}

}  // namespace cellarer::bench
