// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "model/cell/published.hpp"

/// Peukert's law, between neighbouring loads of one cut-off:
///
///     t = H / I^k,    k = ln(t_1 / t_2) / ln(I_2 / I_1)
///
///   t  hours;   I  mean current [mA];   H  hours at 1 mA;   k  1 for a cell without losses, 1.05 to 1.7 measured
///
/// One exponent does not serve from 25 mA to 1 A (E91: 1.13 up to 100 mA, 1.32 from there to 500 mA), so each
/// pair of neighbouring loads has its own. Used as the cross-check on every fit, and in its place for a cell of
/// which only a table of capacities is published and whose curve is not of the known form. Outside the range
/// of its loads the nearest exponent is carried on and `inside_range` is false: an answer that has to be
/// shown as such. Source: W. Peukert, Elektrotechnische Zeitschrift 20 (1897), p. 287.
namespace cellarer::cell {

/// One load's mean over the specimens, continuous and from 15 to 30 degrees Celsius.
struct LoadPoint {
  double current_mA = 0;  ///< mean over the discharge
  double hours = 0;
};

struct PeukertRange {
  double from_mA = 0, to_mA = 0;
  double exponent = 1;       ///< k
  double log_hours_1mA = 0;  ///< ln H
};

struct PeukertCutoff {
  double cutoff_V = 0;
  std::vector<LoadPoint> loads;      ///< rising current
  std::vector<PeukertRange> ranges;  ///< one between each two neighbours; empty for a single load
};

struct Peukert {
  std::vector<PeukertCutoff> cutoffs;  ///< falling cut-off
};

struct PeukertAnswer {
  double hours = 0;
  double exponent = 1;
  bool inside_range = true;  ///< of the loads of this cut-off
};

/// `mean_V` stands in for the voltage over a discharge where a resistance or a power has to become a current,
/// and only there: (1.6 V + cut-off) / 2, within some per cent for alkaline cells.
Peukert peukert(const PublishedCell& cell);

/// None where this cut-off (within 5 mV) has fewer than two loads.
std::optional<PeukertAnswer> peukert_hours(const Peukert& law, double current_mA, double cutoff_V);

/// Mean current of a discharge [mA]: capacity over hours for what is given, else through the mean voltage.
double mean_current_mA(const Load& load, double cutoff_V);

}  // namespace cellarer::cell
