// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
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
///   way(y), stretch(y) the charge to a place: g(y) = way + (lambda - 1) stretch, see DepthScale; beyond where it
///                      begins stretch is a straight line of way
///
/// Between the levels of use by straight lines in use: exact for a constant current, within 2 mV for a constant power.
/// Uses outside 0.4 to 2.5 are taken as the nearer of the two. Cost: about 2000 solutions of a breath.
class LoadTable {
 public:
  static constexpr std::size_t points = cell::Curve::points;
  using Table = std::array<double, points>;

  /// Both arguments may go once the table stands.
  LoadTable(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing);

  double pacing_V(double curve_depth, double use) const { return pacing_V(at_depth(curve_depth), level(use)); }
  double cutoff_depth(double use) const;

  /// For who asks often: between which levels of use one lies, and a place.
  struct Level {
    std::size_t index;
    double share;
  };
  Level level(double use) const;
  double pacing_V(const CurvePlace& place, const Level& level) const {
    const auto &low = pacing_V_[level.index], &high = pacing_V_[level.index + 1];
    const auto at = [&](std::size_t i) { return low[i] + level.share * (high[i] - low[i]); };
    const double here = at(place.index);
    return here + place.share * (at(place.index + 1) - here);
  }

  static CurvePlace at_depth(double curve_depth) {
    const double steps = std::clamp(curve_depth, 0.0, 1.0) * (points - 1);
    const auto index = std::min(static_cast<std::size_t>(steps), points - 2);
    return {index, steps - static_cast<double>(index)};
  }
  double way(const CurvePlace& place) const { return place.in(way_); }
  double stretch(const CurvePlace& place) const { return place.in(stretch_); }
  /// Where a way leads: the inverse of `way`, held inside.
  CurvePlace place(double way) const {
    constexpr std::size_t last = points - 1;
    if (way <= 0) return {0, 0};
    if (way >= way_[last]) return {last - 1, 1};
    const auto bin = std::min(static_cast<std::size_t>(way * bins_per_way_), bins - 1);
    std::size_t index = first_[bin];
    while (index > 0 && way_[index] > way) --index;  // a bin's edge, to the last bit
    // Most bins hold one step's end or none: asked without a branch, which would be guessed wrongly half of the time.
    index += static_cast<std::size_t>(way_[index + 1] < way);
    while (way_[index + 1] < way) ++index;  // it is below the last of them
    return {index, (way - way_[index]) / (way_[index + 1] - way_[index])};
  }

  /// Where the stretch begins: the step of the curve in which it does, as a way, and how it grows along the way.
  struct Bend {
    double from, to;    ///< the step's ends
    double in, beyond;  ///< stretch a way, within the step and after it
  };
  const Bend& bend() const { return bend_; }

 private:
  static constexpr double lowest_use = 0.4, level_step = 0.3, stop_step = 0.05;
  static constexpr std::size_t levels = 8, stops = 43, bins = 256;
  std::array<Table, levels> pacing_V_{};
  std::array<double, stops> cutoff_depth_{};
  Table way_{}, stretch_{};
  Bend bend_{};
  double bins_per_way_ = 0;
  std::array<std::uint8_t, bins> first_{};  ///< of equal parts of the whole way: the step in which each begins

  void lay_out_ways();
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
