// SPDX-License-Identifier: MIT
#pragma once
#include "model/cell/discharge.hpp"
#include "model/cell/fit.hpp"

/// Cells made up for the tests: what a file would publish of a cell whose parameters are known.
namespace cellarer::cell::test {

/// A member of the family that is not its mean: more charge, more resistance.
inline Parameters known_parameters() {
  Parameters parameters = lr6_prior().mean;
  parameters[log_capacity] += 0.03;
  parameters[log_fresh_ohm] += 0.15;
  parameters[fixture_ohm] = 0.05;
  return parameters;
}

inline Discharge row(const Load& load, double cutoff_V) {
  Discharge discharge;
  discharge.load = load;
  discharge.cutoff_V = cutoff_V;
  return discharge;
}

/// Exact hours of `parameters` at 25, 100, 500 mA, 43 ohm and 250 mW to 1.1, 1.0, 0.9 and 0.8 V.
inline PublishedCell published(const Parameters& parameters) {
  PublishedCell cell;
  cell.id = cell.brand = "made-up";
  cell.designation = "LR6";
  cell.source.basis = Basis::measured;
  const Curve curve = curve_of(parameters);
  const Load loads[] = {{LoadKind::current, 25},
                        {LoadKind::current, 100},
                        {LoadKind::current, 500},
                        {LoadKind::resistance, 43},
                        {LoadKind::power, 250}};
  for (const Load& load : loads) {
    for (const double cutoff_V : {1.1, 1.0, 0.9, 0.8}) {
      if (load.value == 500 && cutoff_V > 1.05) continue;
      Discharge discharge_row = row(load, cutoff_V);
      discharge_row.hours = discharge(curve, load, cutoff_V, {parameters[fixture_ohm], 1, 0}).hours;
      cell.discharges.push_back(discharge_row);
    }
  }
  return cell;
}

}  // namespace cellarer::cell::test
