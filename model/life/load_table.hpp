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

/// A place on the curve by its step, and how far into that step.
struct CurvePlace {
  std::size_t index;
  double share;  ///< 0 to 1

  double depth() const { return (static_cast<double>(index) + share) / (cell::Curve::points - 1); }
  double in(const cell::Curve::Table& table) const { return table[index] + share * (table[index + 1] - table[index]); }
};

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
  /// The same for one use at every step of the curve: for who asks often.
  void pacing_V(double use, Table& into) const;
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

/// The tables made so far, so that phases, sets and households with one unit, curve and load share theirs. Told apart
/// by what they are made of, so that nothing that is given need hold on. Not for several threads; who wants that
/// derives.
class LoadTables {
 public:
  virtual ~LoadTables() = default;
  virtual std::shared_ptr<const LoadTable> get(const duty::Stimulator& unit, const cell::Curve& curve,
                                               const duty::BreathLoad& pacing);

 protected:
  /// None: has to be made.
  std::shared_ptr<const LoadTable> find(const duty::Stimulator& unit, const cell::Curve& curve,
                                        const duty::BreathLoad& pacing) const;
  void keep(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing,
            std::shared_ptr<const LoadTable> table);

 private:
  /// What of a unit its tables depend on.
  struct Electronics {
    int cells_in_series;
    duty::Converter converter;
    double cutoff_V, reference_V, burst_seen;
    bool operator==(const Electronics&) const = default;
  };
  struct Entry {
    Electronics unit;
    duty::BreathLoad pacing;
    std::shared_ptr<const cell::Curve> curve;
    std::shared_ptr<const LoadTable> table;
  };
  static Electronics of(const duty::Stimulator& unit);

  std::vector<Entry> entries_;
  std::size_t oldest_ = 0;
};

}  // namespace cellarer::life
