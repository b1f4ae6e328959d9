// SPDX-License-Identifier: MIT
/// The breath-averaged integration against one that goes breath by breath with Boost.odeint.
///
/// The reference has what the average leaves out: a slow current that is a state of its own (first order,
/// 30 minutes, so that it starts from nought and ripples within the breath), a burst and a rest in turn,
/// and converters written anew, solved for the current at the moment's slow current. Shared with the code under test
/// are the cell's curve and the meaning of `seen`. What agrees is the numerics, not the physics.
///
/// Real capacity, no shortening: a whole life of 8 to 20 days is integrated, 0.1 to 0.6 million breaths.
#include <algorithm>
#include <array>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>
#include <cmath>
#include <string>

#include "model/duty/depth_table.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;

namespace {

constexpr double slow_time_s = 1800;

/// A cell with the traits of an LR6: a quick first fall, a plateau, a knee, resistances that rise with depth.
cell::Curve rounded_cell(double fast_rise_ohm = 0.25) {
  cell::Curve::Table open_V{}, slow{}, fast{};
  for (std::size_t i = 0; i < cell::Curve::points; ++i) {
    const double x = static_cast<double>(i) / static_cast<double>(cell::Curve::points - 1);
    open_V[i] = 1.38 + 0.20 * std::exp(-x / 0.06) - 0.26 * x - 0.35 * std::pow(x, 12);
    slow[i] = 0.25 + 0.9 * x * x;
    fast[i] = 0.18 + fast_rise_ohm * x * x * x;
  }
  return {2800, open_V, slow, fast};
}

/// One side with its cells, as the reference sees it.
struct Bench {
  Stimulator unit;
  cell::Curve curve;
  double rate_per_min = 12;
  BreathLoad load;
};

/// Depth, and slow current [mA].
using State = std::array<double, 2>;

/// What the cells have left for the fast resistance [V], and that resistance as the set shows it [V/mA].
struct Source {
  double volts, volts_per_mA;
};

/// The converter's own answer to a source: its current [mA] at `wanted_mA` of the reference voltage, or a
/// negative number when the source cannot feed it.
double drawn_mA(const Stimulator& unit, const Source& source, double wanted_mA) {
  if (unit.converter == Converter::constant_current) return wanted_mA;
  if (unit.converter == Converter::constant_resistance) {
    const double ohm_load = unit.reference_V / (1e-3 * wanted_mA);
    return 1e3 * source.volts / (ohm_load + 1e3 * source.volts_per_mA);
  }
  // P = I (E - I R): the smaller root is the working one
  const double power_mW = wanted_mA * unit.reference_V, R = source.volts_per_mA;
  const double discriminant = source.volts * source.volts - 4 * R * power_mW;
  if (discriminant < 0 || source.volts < 0) return -1;
  return 2 * power_mW / (source.volts + std::sqrt(discriminant));
}

Source source(const Bench& bench, const State& state, bool burst) {
  const double cells = bench.unit.cells_in_series;
  const double seen = std::max(bench.unit.burst_seen, bench.load.mean_mA() / bench.load.burst_mA);
  return {cells * (bench.curve.open_circuit_V(state[0]) - 1e-3 * state[1] * bench.curve.slow_ohm(state[0])),
          1e-3 * cells * bench.curve.fast_ohm(state[0]) * (burst ? seen : 1.0)};
}

/// One phase of a breath: true while the side can go on.
bool integrate_phase(const Bench& bench, State& state, bool burst, double seconds) {
  const double wanted_mA = burst ? bench.load.burst_mA : bench.load.rest_mA;
  const auto slope = [&](const State& at, State& rate, double) {
    const double current_mA = drawn_mA(bench.unit, source(bench, at, burst), wanted_mA);
    rate[0] = current_mA / (bench.curve.capacity_mAh() * 3600);
    rate[1] = (current_mA - at[1]) / slow_time_s;
  };
  boost::numeric::odeint::runge_kutta4<State> stepper;
  stepper.do_step(slope, state, 0.0, seconds);
  const Source now = source(bench, state, burst);
  const double current_mA = drawn_mA(bench.unit, now, wanted_mA);
  if (current_mA < 0) return false;
  return !burst || now.volts - now.volts_per_mA * current_mA >= bench.unit.cutoff_V;
}

double hours_breath_by_breath(const Bench& bench) {
  const double breath_s = 60 / bench.rate_per_min, burst_s = bench.load.fraction * breath_s;
  State state{0, 0};
  double breaths = 0;
  while (integrate_phase(bench, state, true, burst_s) && integrate_phase(bench, state, false, breath_s - burst_s)) {
    breaths += 1;
  }
  return breaths * breath_s / 3600;
}

/// Reference charge [mAh] to cut-off when ten hours of pacing and fourteen of standby take turns.
double charge_in_nights(const Bench& bench, double standby_mA) {
  const double breath_s = 60 / bench.rate_per_min, burst_s = bench.load.fraction * breath_s;
  Bench standby = bench;
  standby.load = steady_load(standby_mA);
  State state{0, 0};
  double charge_mAh = 0;
  for (;;) {
    for (double passed_s = 0; passed_s < 36000; passed_s += breath_s) {
      if (!integrate_phase(bench, state, true, burst_s)) return charge_mAh;
      if (!integrate_phase(bench, state, false, breath_s - burst_s)) return charge_mAh;
      charge_mAh += bench.load.mean_mA() * breath_s / 3600;
    }
    for (int minute = 0; minute < 14 * 60; ++minute) integrate_phase(standby, state, false, 60);
    charge_mAh += 14 * standby_mA;
  }
}

Bench bench(Converter converter, double rate_per_min, double inspiratory_time_s, double cutoff_V = 2.0) {
  Bench made;
  made.unit.converter = converter;
  made.unit.cutoff_V = cutoff_V;
  made.curve = rounded_cell();
  made.rate_per_min = rate_per_min;
  made.load = {.burst_mA = 34, .rest_mA = 2.2, .fraction = rate_per_min * inspiratory_time_s / 60};
  return made;
}

void check_agreement(const Bench& made) {
  const double hours = hours_to_cutoff(made.unit, made.curve, made.load);
  const double expected = hours_breath_by_breath(made);
  INFO("breath by breath " << expected << " h, averaged " << hours << " h, apart " << 100 * (hours / expected - 1)
                           << " %");
  CHECK(expected > 100);
  CHECK(hours == Approx(expected).epsilon(1e-3));
}

}  // namespace

TEST_CASE("constant current: averaged life is breath-by-breath life within 0.1 % at 8, 12, 20 and 30 a minute") {
  check_agreement(bench(Converter::constant_current, 8, 1.6));
  check_agreement(bench(Converter::constant_current, 12, 1.4));
  check_agreement(bench(Converter::constant_current, 20, 1.0));
  check_agreement(bench(Converter::constant_current, 30, 0.7));
}

TEST_CASE("constant power: averaged life is breath-by-breath life within 0.1 % at 8, 12, 20 and 30 a minute") {
  check_agreement(bench(Converter::constant_power, 8, 1.6));
  check_agreement(bench(Converter::constant_power, 12, 1.4));
  check_agreement(bench(Converter::constant_power, 20, 1.0));
  check_agreement(bench(Converter::constant_power, 30, 0.7));
}

TEST_CASE("constant resistance: averaged life is breath-by-breath life within 0.1 % at 8, 12, 20 and 30 a minute") {
  check_agreement(bench(Converter::constant_resistance, 8, 1.6));
  check_agreement(bench(Converter::constant_resistance, 12, 1.4));
  check_agreement(bench(Converter::constant_resistance, 20, 1.0));
  check_agreement(bench(Converter::constant_resistance, 30, 0.7));
}

TEST_CASE("a converter that sees the whole burst, or as little of it as a capacitor leaves, agrees within 0.1 %") {
  for (const double seen : {0.0, 1.0}) {
    for (const auto converter :
         {Converter::constant_current, Converter::constant_power, Converter::constant_resistance}) {
      Bench made = bench(converter, 12, 1.4);
      made.unit.burst_seen = seen;
      check_agreement(made);
    }
  }
}

TEST_CASE("where feeding ends before the cut-off voltage comes, both say so at the same hour within 0.1 %") {
  // A fast resistance that rises to some tens of ohms: E^2 < 4 P R while the set still shows more than a volt.
  Bench made = bench(Converter::constant_power, 12, 1.4, 0.2);
  made.curve = rounded_cell(60);
  const double depth = cutoff_depth(made.unit, made.curve, made.load, 1);
  REQUIRE(depth < 0.99);
  CHECK(pacing_V(made.unit, made.curve, made.load, 1, depth - 1e-9) > 2 * made.unit.cutoff_V);
  check_agreement(made);
}

TEST_CASE("nights of ten hours with standby between draw the same charge to cut-off within 0.1 %") {
  for (const auto converter :
       {Converter::constant_current, Converter::constant_power, Converter::constant_resistance}) {
    const Bench made = bench(converter, 12, 1.4);
    const double standby_mA = 0.6, night_mAh = 10 * made.load.mean_mA(), day_mAh = 14 * standby_mA;
    const std::vector<LoadShare> shares{{made.load, night_mAh / (night_mAh + day_mAh)},
                                        {steady_load(standby_mA), day_mAh / (night_mAh + day_mAh)}};
    const DepthTable table(made.unit, made.curve, shares, 1);
    const double charge_mAh = table.charge_to(cutoff_depth(made.unit, made.curve, made.load, 1));
    CHECK(charge_mAh == Approx(charge_in_nights(made, standby_mA)).epsilon(1e-3));
  }
}
