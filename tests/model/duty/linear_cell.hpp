// SPDX-License-Identifier: MIT
#pragma once
#include "model/cell/curve.hpp"
#include "model/duty/stimulator.hpp"

/// A cell and a unit of which everything can be worked out on paper.
namespace cellarer::duty::example {

/// U = 1.55 - 0.5 x, the two resistances the same at every depth.
inline cell::Curve linear_cell(double capacity_mAh = 2500, double slow_ohm = 0.2, double fast_ohm = 0.1) {
  cell::Curve::Table open_V{}, slow{}, fast{};
  for (std::size_t i = 0; i < cell::Curve::points; ++i) {
    open_V[i] = 1.55 - 0.5 * static_cast<double>(i) / static_cast<double>(cell::Curve::points - 1);
    slow[i] = slow_ohm;
    fast[i] = fast_ohm;
  }
  return {capacity_mAh, open_V, slow, fast};
}

/// The unit of the documents: 18 + 52 (a / 4) mA in bursts, 2.2 mA between, 1.9 V of two cells.
inline Stimulator unit(Converter converter = Converter::constant_current) {
  Stimulator stimulator;
  stimulator.id = "example";
  stimulator.basis = "invented";
  stimulator.converter = converter;
  stimulator.left = {.burst_base_mA = 18,
                     .burst_slope_mA = 52,
                     .reference_amplitude = 4,
                     .exponent = 1,
                     .rest_mA = 2.2,
                     .standby_mA = 0.6,
                     .off_mA = 0.02};
  stimulator.right = stimulator.left;
  return stimulator;
}

/// One cell of the set alone, so that published single-cell examples can be asked of the same code.
inline Stimulator single_cell_unit(Converter converter, double cutoff_V, double reference_V) {
  Stimulator stimulator = unit(converter);
  stimulator.cells_in_series = 1;
  stimulator.cutoff_V = cutoff_V;
  stimulator.reference_V = reference_V;
  return stimulator;
}

}  // namespace cellarer::duty::example
