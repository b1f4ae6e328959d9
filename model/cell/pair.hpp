// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/cell/discharge.hpp"

/// Cells of different state or type in series: a part-used cell beside a fresh one, two brands mixed.
///
/// In series every cell gives the same charge q, so the set is one cell whose open-circuit voltage and
/// resistances are the sums at equal charge:
///
///     U(q) = sum_i U_i(x_i + q / Q_i),    R(q) = sum_i R_i(x_i + q / Q_i)
///
/// The weakest cell ends the set: driven on, it is reversed, and may leak.
namespace cellarer::cell {

struct InSeries {
  Curve curve;
  double depth = 0;           ///< used already; 0 fresh, below 1
  double capacity_scale = 1;  ///< of this specimen, against the curve
};

struct SetDischarged {
  double hours = 0;  ///< to the cut-off of the set
  double capacity_mAh = 0;
  std::vector<double> end_V;     ///< each cell's terminal voltage at that moment
  double first_reversed_h = -1;  ///< when the first cell's voltage reaches nought, -1 if not before the end
};

/// The whole set as one curve, over the charge that its weakest cell can give.
/// `cells` not empty (asserted).
Curve curve_of_set(const std::vector<InSeries>& cells);

/// Load and cut-off of the whole set.
SetDischarged discharge_set(const std::vector<InSeries>& cells, const Load& load, double cutoff_V);

}  // namespace cellarer::cell
