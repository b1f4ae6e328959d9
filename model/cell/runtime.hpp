// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/cell/fit.hpp"
#include "model/cell/profile.hpp"

/// Hours of one fresh cell to a cut-off, with the interval in which nine of ten cells are expected.
///
///     ln hours_high, low = ln hours +- 1.645 sd
///     sd^2 = fit^2 + form^2 + specimen^2 + lot^2 + brand^2 + temperature^2,   sd 10 % wider when intermittent
///
///   fit          what the published figures leave open at this load (`fit_log_sd`)
///   form         of the curve's form: 0.02 inside the published currents, 0.05 outside (the mean error of
///                published points left out of the fit; `cellarer fit data/cells --table`); where the published figures
///                fit worse than that, their typical residual
///   specimen, lot, brand   see Spread
///   temperature  nothing from 15 to 30 degrees Celsius, 0.02 a degree outside; refused below 5 and above 50
///
/// Published rows have the source's fixture (holder, contacts, leads) inside. The hours are answered the same way, so
/// that at a published load and cut-off they are the published ones; `bare_hours` are those of the cell alone, which is
/// what `make_profile` hands on. `fixture_ohm` of the request puts another resistance in series instead.
///
/// Stored charge is lost at 2 % a year of clock time while the discharge lasts.
/// For a side's life under a pacing load use `model/duty` and `model/life`; this is for one steady load.
namespace cellarer::cell {

inline constexpr double loss_a_year = 0.02;

struct RuntimeRequest {
  Load load;
  double cutoff_V = 0.9;      ///< of one cell
  double hours_per_day = 24;  ///< under load, in one stretch; > 0
  double temperature_C = 21;
  std::optional<double> fixture_ohm;  ///< in series with the cell, 0 to 0.5; none: the source's own, as published
};

struct Runtime {
  double hours = 0;  ///< under load
  double hours_low = 0, hours_high = 0;
  double with_fixture_ohm = 0;    ///< in `hours`; of Peukert's law unknown, and 0
  double source_fixture_ohm = 0;  ///< as fitted, taken off the published rows
  double bare_hours = 0;          ///< of the cell alone; 0 where it is already below the cut-off; by Peukert: `hours`
  double days = 0;                ///< of clock time: hours * 24 / hours_per_day
  double capacity_mAh = 0;        ///< delivered
  double log_sd = 0;
  bool by_peukert = false;   ///< the fallback answered
  bool inside_range = true;  ///< of the published currents, cut-offs and temperatures
  std::vector<std::string> cautions;
};

struct RuntimeAnswer {
  std::optional<Runtime> runtime;
  std::string why_not;  ///< when there is none: one sentence that says what would be right
};

RuntimeAnswer runtime(const PublishedCell& cell, const FitSummary& summary, const RuntimeRequest& request);

/// What the forecast needs of this cell: its curve, its spread (the file's own, else the family's measured
/// one with the brand known), and whether it may be used.
Profile make_profile(const PublishedCell& cell, const FitSummary& summary);

}  // namespace cellarer::cell
