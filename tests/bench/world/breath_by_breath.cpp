// SPDX-License-Identifier: MIT
#include "tests/bench/world/breath_by_breath.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::bench {

namespace {

constexpr double slow_time_s = 1800;

/// Where one set stands within a breath.
struct State {
  double charge_mAh = 0;  ///< given by each cell, per capacity factor
  double slow_mA = 0;
  double burst_V = DischargeTable::fresh_V, rest_V = DischargeTable::fresh_V;  ///< of one cell, when last so
};

}  // namespace

double hours_by_table(const PacingSet& set) {
  const LoadTable table(*set.cell, set.unit, set.load, set.burst_share);
  return table.hours_at(table.z_at(set.unit.cutoff_V)) * set.capacity / std::pow(set.use, table.exponent());
}

double hours_breath_by_breath(const PacingSet& set, bool slow_state) {
  const double cells = set.unit.cells_in_series;
  const double breath_s = 60 / set.rate_per_min, burst_s = set.load.fraction * breath_s;
  const auto drawn = [&](double reference_mA, double volts) {
    return set.use * reference_mA * converter_draw(set.unit.converter, set.unit.reference_V, cells * volts);
  };
  State state;
  const auto phase = [&](double reference_mA, double seen, double& volts, double seconds) {
    const double current = drawn(reference_mA, volts);
    const double mean = slow_state ? state.slow_mA : drawn(set.load.mean_mA(), volts);
    const double effective = mean + set.burst_share * (seen * current - mean);
    volts = set.cell->volts(state.charge_mAh, effective, volts);
    const double taken = drawn(reference_mA, volts);
    state.charge_mAh += taken * seconds / 3600 / set.capacity;
    state.slow_mA += (taken - state.slow_mA) * -std::expm1(-seconds / slow_time_s);
  };
  const double seen = std::max(set.unit.burst_seen, set.load.mean_mA() / set.load.burst_mA);
  double hours = 0;
  for (;;) {
    phase(set.load.burst_mA, seen, state.burst_V, burst_s);
    if (cells * state.burst_V < set.unit.cutoff_V) return hours;
    phase(set.load.rest_mA, 1, state.rest_V, breath_s - burst_s);
    hours += breath_s / 3600;
  }
}

BreathSample compare_breath_by_breath(const World& world, std::uint64_t seed, int sets) {
  BreathSample sample;
  for (int i = 0; i < sets; ++i) {
    const auto household = static_cast<std::size_t>(i);
    const HouseholdTruth truth(world, seed, household);
    const auto drawn = truth.set(Side::left, 0);
    PacingSet set;
    set.cell = &world.brands()[drawn.brand].truth;
    set.unit = world.unit_of(household);
    set.load = pacing_load_of(set.unit.left, world.settings_of(household, Side::left), set.unit.left.exponent);
    set.burst_share = truth.burst_share();
    set.use = std::exp(drawn.log_use + truth.side_log_use(Side::left));
    set.capacity = std::exp(drawn.log_capacity);
    const double hours = hours_by_table(set);
    const double apart = hours_breath_by_breath(set, false) / hours - 1;
    const double apart_slow = hours_breath_by_breath(set, true) / hours - 1;
    sample.mean += apart / sets;
    sample.mean_slow += apart_slow / sets;
    sample.largest = std::max(sample.largest, std::abs(apart));
    sample.largest_slow = std::max(sample.largest_slow, std::abs(apart_slow));
  }
  return sample;
}

}  // namespace cellarer::bench
