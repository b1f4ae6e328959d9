// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>

/// The voltage of one cell under load.
///
///     V = U(x) - I_s R_slow(x) - I_b R_fast(x, T)
///
///   x       depth of discharge, 0 fresh to 1 spent: dx/dt = I / Q
///   U       open-circuit voltage [V], falling in x
///   I_b     current of the moment [A];  I_s the same smoothed over minutes to an hour [A]
///   R_slow  polarisation resistance [ohm], seen by the mean current only
///   R_fast  ohmic and charge-transfer resistance [ohm], seen by every change of the current
///   Q       capacity [mAh] as current goes to nought
///
/// A continuous discharge sees the sum of both resistances; a pacing burst sees R_fast alone on top of
/// the mean. Pure function of its parameters: no state, no units hidden.
namespace cellarer::cell {

/// Tabulated at equal steps of depth, linear in between; outside 0..1 the end values extend with the last
/// slope, so that a solver may overshoot. Made by `fit` (fit.hpp) or, for a cell of which the curve is
/// given in closed form, by sampling it.
class Curve {
 public:
  static constexpr std::size_t points = 201;  ///< depth 0, 0.005 ... 1
  using Table = std::array<double, points>;

  Curve() = default;
  Curve(double capacity_mAh, const Table& open_circuit_V, const Table& slow_ohm, const Table& fast_ohm)
      : capacity_mAh_(capacity_mAh), open_circuit_V_(open_circuit_V), slow_ohm_(slow_ohm), fast_ohm_(fast_ohm) {}

  bool operator==(const Curve&) const = default;

  double capacity_mAh() const { return capacity_mAh_; }
  double open_circuit_V(double depth) const { return at(open_circuit_V_, depth); }
  double slow_ohm(double depth) const { return at(slow_ohm_, depth); }
  double fast_ohm(double depth) const { return at(fast_ohm_, depth); }

  /// Terminal voltage [V] of one cell: `slow_mA` the smoothed current, `fast_mA` that of the moment.
  double terminal_V(double depth, double slow_mA, double fast_mA) const {
    return open_circuit_V(depth) - 1e-3 * (slow_mA * slow_ohm(depth) + fast_mA * fast_ohm(depth));
  }

 private:
  static double at(const Table& table, double depth) {
    const double position = depth * static_cast<double>(points - 1);
    const double floor_position = position < 0             ? 0
                                  : position >= points - 1 ? points - 2
                                                           : static_cast<double>(static_cast<std::size_t>(position));
    const auto index = static_cast<std::size_t>(floor_position);
    const double share = position - floor_position;
    return table[index] + share * (table[index + 1] - table[index]);
  }

  double capacity_mAh_ = 0;
  Table open_circuit_V_{};
  Table slow_ohm_{};
  Table fast_ohm_{};
};

}  // namespace cellarer::cell
