// SPDX-License-Identifier: MIT
#include "model/cell/pair.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::cell {

namespace {

/// Charge over which the set is tabulated [mAh]: what is left in the weakest cell. `discharge` follows it on.
double tabulated_mAh(const std::vector<InSeries>& cells) {
  double least = (1 - cells[0].depth) * cells[0].capacity_scale * cells[0].curve.capacity_mAh();
  for (const InSeries& cell : cells) {
    least = std::min(least, (1 - cell.depth) * cell.capacity_scale * cell.curve.capacity_mAh());
  }
  return least;
}

double depth_after(const InSeries& cell, double charge_mAh) {
  return cell.depth + charge_mAh / (cell.capacity_scale * cell.curve.capacity_mAh());
}

double set_current_mA(const Load& load, const std::vector<InSeries>& cells, double charge_mAh) {
  double open = 0, ohm = 0;
  for (const InSeries& cell : cells) {
    const double depth = depth_after(cell, charge_mAh);
    open += cell.curve.open_circuit_V(depth);
    ohm += cell.curve.slow_ohm(depth) + cell.curve.fast_ohm(depth);
  }
  if (load.kind == LoadKind::current) return load.value;
  if (load.kind == LoadKind::resistance) return 1e3 * open / (load.value + ohm);
  const double headroom = std::max(0.0, open * open - 4e-3 * load.value * ohm);
  return 2 * load.value / (open + std::sqrt(headroom));
}

}  // namespace

Curve curve_of_set(const std::vector<InSeries>& cells) {
  assert(!cells.empty());
  const double whole = tabulated_mAh(cells);
  Curve::Table open{}, slow{}, fast{};
  for (std::size_t j = 0; j < Curve::points; ++j) {
    const double charge = whole * static_cast<double>(j) / static_cast<double>(Curve::points - 1);
    for (const InSeries& cell : cells) {
      const double depth = depth_after(cell, charge);
      open[j] += cell.curve.open_circuit_V(depth);
      slow[j] += cell.curve.slow_ohm(depth);
      fast[j] += cell.curve.fast_ohm(depth);
    }
  }
  return Curve(whole, open, slow, fast);
}

SetDischarged discharge_set(const std::vector<InSeries>& cells, const Load& load, double cutoff_V) {
  const Curve set = curve_of_set(cells);
  const Discharged whole = discharge(set, load, cutoff_V);
  SetDischarged result;
  result.hours = whole.hours;
  result.capacity_mAh = whole.capacity_mAh;
  const auto volts = [&](const InSeries& cell, double charge) {
    const double current = set_current_mA(load, cells, charge);
    return cell.curve.terminal_V(depth_after(cell, charge), current, current);
  };
  for (const InSeries& cell : cells) result.end_V.push_back(volts(cell, whole.capacity_mAh));
  constexpr int steps = 400;
  for (int step = 0; step <= steps && result.first_reversed_h < 0; ++step) {
    const double share = static_cast<double>(step) / steps;
    const bool reversed = std::any_of(
        cells.begin(), cells.end(), [&](const InSeries& cell) { return volts(cell, share * whole.capacity_mAh) <= 0; });
    if (reversed) result.first_reversed_h = share * whole.hours;
  }
  return result;
}

}  // namespace cellarer::cell
