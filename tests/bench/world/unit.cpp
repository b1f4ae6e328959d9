// SPDX-License-Identifier: MIT
#include "tests/bench/world/unit.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::bench {

namespace {

using namespace std::chrono_literals;

/// Hours a day that use up a fresh set in `days`, at use 1; above 24 where the settings cannot.
double hours_a_day(const duty::Stimulator& unit, Side side, const duty::Settings& settings, const DischargeTable& cell,
                   double burst_share, double days) {
  const auto& electronics = unit.side(side);
  const auto load = pacing_load_of(electronics, settings, electronics.exponent);
  const LoadTable table(cell, unit, load, burst_share);
  const double charge = table.z_at(unit.cutoff_V);
  const double pacing_mA = charge / table.hours_at(charge);
  const double standby_mA = electronics.standby_mA * pacing_mA / load.mean_mA();  // at about the same voltages
  return (charge / days - 24 * standby_mA) / (pacing_mA - standby_mA);
}

duty::PacedSpan span_of(double hours) {
  duty::PacedSpan span;
  span.weekday.fill(true);
  const auto paced = std::chrono::minutes(5 * std::lround(12 * hours));
  // Up to 11 hours from 20:00 on; longer ones end at 07:00.
  span.from = paced <= 11h ? std::chrono::minutes(20h) : (31h - paced) % 24h;
  span.to = (span.from + paced) % 24h;
  return span;
}

std::size_t line_at(const std::vector<std::pair<double, double>>& scale, double value, bool volts) {
  std::size_t i = 0;
  while (i + 2 < scale.size() && value < (volts ? scale[i + 1].second : scale[i + 1].first)) ++i;
  return i;
}

}  // namespace

duty::Stimulator bare_unit(const WorldSpec& spec) {
  duty::Stimulator unit;
  unit.basis = "invented";
  unit.converter = spec.unit.converter;
  unit.burst_seen = spec.unit.burst_seen;
  if (unit.converter == duty::Converter::constant_current) {
    unit.id = "bench-current";
    unit.cutoff_V = 1.9;
    unit.left = {18, 52, 4.0, 1.0, 2.2, 0.6, 0.02};
  } else {
    unit.id = unit.converter == duty::Converter::constant_power ? "bench-power" : "bench-resistance";
    unit.cutoff_V = 1.8;
    unit.left = {11, 33, 4.0, 1.4, 1.6, 0.7, 0.03};
  }
  unit.right = unit.left;
  unit.left.rest_mA += spec.unit.display_mA;
  unit.left.standby_mA += spec.unit.display_mA;
  const auto& use = spec.use;
  unit.relative_sd = std::hypot(use.household_log_sd, use.side_log_sd, use.channel_log_sd);
  if (spec.unit.gauge_steps > 0) unit.gauge.steps = spec.unit.gauge_steps;
  unit.gauge.noise_points = spec.unit.wander_points;
  unit.gauge.bias_points = spec.unit.unit_bias_points;
  unit.warning_percent = spec.unit.warning_percent;
  return unit;
}

std::array<duty::Settings, 2> settings_for(const WorldSpec& spec, const duty::Stimulator& unit,
                                           const DischargeTable& cell, double burst_share) {
  std::array<duty::Settings, 2> both;
  both[1].side = Side::right;
  auto& left = both[0];
  left.amplitude = unit.left.reference_amplitude;
  const auto hours = [&] { return hours_a_day(unit, Side::left, left, cell, burst_share, spec.set_life_days); };
  if (hours() <= 24) {
    left.paced = {span_of(hours())};
  } else {
    // The least amplitude that needs no more than the whole day.
    double low = left.amplitude, high = 4 * left.amplitude;
    for (int halving = 0; halving < 40; ++halving) {
      left.amplitude = 0.5 * (low + high);
      (hours() > 24 ? low : high) = left.amplitude;
    }
    left.amplitude = high;
  }
  both[1].amplitude = left.amplitude;
  both[1].paced = left.paced;
  return both;
}

std::vector<std::pair<double, double>> scale_for(const duty::Stimulator& unit, const duty::Settings& settings,
                                                 const DischargeTable& cell, double burst_share) {
  const auto load = pacing_load_of(unit.left, settings, unit.left.exponent);
  const LoadTable table(cell, unit, load, burst_share);
  const double charge = table.z_at(unit.cutoff_V);
  std::vector<std::pair<double, double>> scale;
  for (const double percent : {100, 97, 94, 90, 80, 70, 60, 50, 40, 30, 20, 10, 5, 2, 0}) {
    scale.emplace_back(percent, table.set_V((1 - 0.01 * percent) * charge));
  }
  return scale;
}

double percent_at(const std::vector<std::pair<double, double>>& scale, double set_V) {
  const auto i = line_at(scale, set_V, true);
  const auto [percent, volts] = scale[i];
  return percent + (set_V - volts) * (percent - scale[i + 1].first) / (volts - scale[i + 1].second);
}

double volts_at(const std::vector<std::pair<double, double>>& scale, double percent) {
  const auto i = line_at(scale, percent, false);
  const auto [at, volts] = scale[i];
  return volts + (percent - at) * (volts - scale[i + 1].second) / (at - scale[i + 1].first);
}

}  // namespace cellarer::bench
