// SPDX-License-Identifier: MIT
#include "tests/bench/world/spec.hpp"

namespace cellarer::bench {

namespace {

std::vector<std::string> measured_brands() {
  return {"lr6-duracell-procell",
          "lr6-alkalisk-alkaline",
          "lr6-coop-prix-garantie",
          "lr6-energizer-alkaline-power",
          "lr6-coop-qualite-prix-basic-plus",
          "lr6-duracell-industrial",
          "lr6-energizer-max-alkaline",
          "lr6-eveready-gold",
          "lr6-logilink-ultra-power",
          "lr6-mpower-alkaline",
          "lr6-simply-duracell",
          "lr6-varta-long-life",
          "lr6-varta-long-life-power"};
}

}  // namespace

WorldSpec reference_world(int gauge_steps, double missed) {
  WorldSpec spec;
  spec.name = gauge_steps == 0 ? "reference, percent gauge" : "reference, gauge of " + std::to_string(gauge_steps);
  spec.cells.brands = measured_brands();
  // What is not known there of a side's draw is the 1.5 % that it may differ by, and nothing beside.
  spec.cells.exponent_alike = 1;
  spec.unit.gauge_steps = gauge_steps;
  spec.people.missed = missed;
  return spec;
}

WorldSpec field_world(int gauge_steps) {
  WorldSpec spec = reference_world(gauge_steps, 0.05);
  spec.name = gauge_steps == 0 ? "field, percent gauge" : "field, gauge of " + std::to_string(gauge_steps);
  spec.zone = "Europe/Oslo";
  spec.cells.exponent_alike = CellsSpec{}.exponent_alike;
  // Two cells of 2.3 % (data/reference/lr6-spread.json), the weaker of which ends the set; lots, duds: assumed there.
  spec.cells.set_log_sd = 0.018;
  spec.cells.lot_log_sd = 0.015;
  spec.cells.dud_fraction = 0.003;
  spec.cells.stored_years_most = 4;
  spec.cells.expiry_recorded = 0.7;
  spec.cells.other_brand = 0.1;
  spec.unit.converter = duty::Converter::constant_power;
  spec.unit.own_scale = false;
  spec.unit.set_bias_points = 1;
  spec.unit.mistake_probability = 0.02;
  spec.unit.display_mA = 0.6;
  spec.use.household_log_sd = 0.04;
  spec.use.side_log_sd = 0.03;
  spec.use.channel_log_sd = 0.02;
  spec.use.drift_log_sd_a_month = 0.01;
  spec.use.exponent_sd = 0.15;
  spec.use.settings_changes_a_year = 2;
  spec.use.longer_spells_a_year = 2;
  spec.use.unit_swaps_a_year = 1.5;
  spec.people.habits = {0.4, 0.25, 0.3, 0.05};
  spec.people.warning_heeded = 0.9;
  spec.people.early_a_year = 3;
  spec.people.next_morning = 0.1;
  spec.people.wrong_side = 0.004;
  spec.people.twice = 0.01;
  spec.people.never = 0.01;
  spec.people.sudden_a_year = 0.05;
  return spec;
}

}  // namespace cellarer::bench
