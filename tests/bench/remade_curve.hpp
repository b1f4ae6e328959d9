// SPDX-License-Identifier: MIT
#pragma once
#include "model/cell/curve.hpp"

namespace cellarer::bench {

/// The same curve with another capacity and with more resistance of the fast kind (contacts) in series.
inline cell::Curve remade_curve(const cell::Curve& curve, double capacity_mAh, double more_ohm) {
  cell::Curve::Table open_V{}, slow_ohm{}, fast_ohm{};
  for (std::size_t i = 0; i < cell::Curve::points; ++i) {
    const double depth = static_cast<double>(i) / (cell::Curve::points - 1);
    open_V[i] = curve.open_circuit_V(depth);
    slow_ohm[i] = curve.slow_ohm(depth);
    fast_ohm[i] = curve.fast_ohm(depth) + more_ohm;
  }
  return {capacity_mAh, open_V, slow_ohm, fast_ohm};
}

}  // namespace cellarer::bench
