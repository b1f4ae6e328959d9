// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <memory>
#include <vector>

#include "model/cell/curve.hpp"
#include "model/duty/load.hpp"

/// What one side's electronics and one type of cell do together under one load, computed once and then looked up: a
/// forecast asks the same questions for some hundred hypotheses a reading.
namespace cellarer::life {

/// The tables of one load.
///
///   pacing_V(y, use)   set voltage in the bursts [V] at the place y on the curve (0 fresh to 1) for a relative use
///   cutoff_depth(use)  the place at which the unit stops
///   way(y), stretch(y) the charge to a place: g(y) = way + (lambda - 1) stretch, see DepthScale
///
/// Between the levels of use by straight lines in use: exact for a constant current, within 2 mV for a constant power.
/// Uses outside 0.4 to 2.5 are taken as the nearer of the two. Cost: about 2000 solutions of a breath.
class LoadTable {
 public:
  static constexpr std::size_t points = cell::Curve::points;
  using Table = std::array<double, points>;

  /// Both arguments may go once the table stands.
  LoadTable(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing);

  double pacing_V(double curve_depth, double use) const;
  double cutoff_depth(double use) const;
  const Table& way() const { return way_; }
  const Table& stretch() const { return stretch_; }

 private:
  static constexpr double lowest_use = 0.4, level_step = 0.3, stop_step = 0.05;
  static constexpr std::size_t levels = 8, stops = 43;
  std::array<Table, levels> pacing_V_{};
  std::array<double, stops> cutoff_depth_{};
  Table way_{}, stretch_{};
};

/// The tables made so far, so that phases and sets with one unit, curve and load share theirs.
class LoadTables {
 public:
  /// `unit` and `curve` are told apart by their addresses, which must hold as long as this does.
  std::shared_ptr<const LoadTable> get(const duty::Stimulator& unit, const cell::Curve& curve,
                                       const duty::BreathLoad& pacing);

 private:
  struct Entry {
    const duty::Stimulator* unit;
    const cell::Curve* curve;
    duty::BreathLoad pacing;
    std::shared_ptr<const LoadTable> table;
  };
  std::vector<Entry> entries_;
};

}  // namespace cellarer::life
