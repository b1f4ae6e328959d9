// SPDX-License-Identifier: MIT
#pragma once
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "model/cell/family.hpp"
#include "model/cell/peukert.hpp"
#include "model/cell/published.hpp"

/// The curve of one cell from all that is published of it at once.
///
/// Minimised over the parameters p of `family.hpp`, with Ceres:
///
///     sum over discharges of rho((ln hours(p) - ln hours_published) / sd)  +  (p - m)' C^-1 (p - m)
///
/// Capacities are compared as capacities, so that no mean current is guessed for a resistance or a power.
/// rho is the pseudo-Huber loss (3 standard deviations). m, C: the family's prior, which decides what the
/// file does not: Q without a low load, the fast resistance, the fixture, the time constant. sd: see `Noise`.
///
/// Returns always; a weak fit is a field of the summary. For a cell whose form is not known to be this one
/// the summary says not usable, and `peukert` answers inside the published range.
/// Time: some milliseconds.
namespace cellarer::cell {

/// What a published figure is trusted to, as standard deviations of the logarithm of the hours.
struct Noise {
  double measured = 0.02;  ///< two cells of one brand differ by 1.6 to 2.6 %
  double data_sheet = 0.05;
  double chart_reading = 0.06;  ///< allow 5 to 10 %
  double memory = 0.10;
  double regimen = 0.05;      ///< added for an intermittent discharge: no measured ones to learn from
  double temperature = 0.10;  ///< added outside 15 to 30 degrees Celsius
  double voltage_V = 0.008;   ///< of the cut-off; near the start a few millivolts are many per cent of the hours
  double contact_ohm = 0.03;  ///< of the holder, between insertions; chosen with the accuracy table (score.hpp)
  double points_a_curve = 8;  ///< points of one discharge are not independent: more than this many count as this many
};

struct FitOptions {
  std::optional<FamilyPrior> prior;  ///< none: `prior_for` the designation
  Noise noise;
  std::vector<std::size_t> left_out;  ///< places in `discharges` that the fit does not see, yet predicts; ascending
  std::optional<Parameters> start;    ///< where the search begins; none: the prior's mean
  double outsider_log_sd = 0.07;      ///< added to the prior's ln Q: a file's brand may lie outside those learned from
  int iterations = 200;
  double tolerance = 1e-7;   ///< relative change of the cost at which the search ends
  double usable_rms = 0.15;  ///< of the residuals' logarithm: a worse fit is not usable
};

struct FittedPoint {
  double published = 0;     ///< hours, or mAh where the file gives a capacity
  double fitted = 0;        ///< the same, with the source's fixture
  double log_residual = 0;  ///< ln(fitted / published)
  double log_sd = 0;        ///< as weighed in the fit
  bool in_fit = true;       ///< false: left out, or outside 5 to 50 degrees Celsius
};

/// Where the figures stand, so that what lies outside is said to.
struct ValidRange {
  double lowest_mA = 0, highest_mA = 0;  ///< mean currents of the discharges in the fit
  double lowest_cutoff_V = 0, highest_cutoff_V = 0;
  double lowest_C = 21, highest_C = 21;
};

struct FitSummary {
  Parameters parameters = Parameters::Zero();
  Covariance covariance = Covariance::Zero();  ///< posterior, Laplace's approximation
  Curve curve;                                 ///< of `parameters`; without the fixture
  std::vector<FittedPoint> points;             ///< one a discharge, in the file's order
  ValidRange range;
  Peukert peukert;                  ///< of the published figures: cross-check and fallback
  double rms_log_residual = 0;      ///< of the points in the fit
  double typical_log_residual = 0;  ///< 1.48 times the median size: a standard deviation that few rows do not spoil
  double largest_log_residual = 0;  ///< by size
  int iterations = 0;
  std::string why_it_stopped;  ///< Ceres' own sentence
  bool converged = false;
  bool usable = false;
  std::string why_not;                ///< when not usable: one sentence
  std::vector<std::string> cautions;  ///< plain sentences: few points, far from the family, ...
};

/// Peukert's exponent between neighbouring published loads, against that of the fitted curve.
struct ExponentCheck {
  double cutoff_V = 0, from_mA = 0, to_mA = 0;
  double published = 1, fitted = 1;
};

FitSummary fit(const PublishedCell& cell, const FitOptions& options = {});

/// One for every range of `summary.peukert`.
std::vector<ExponentCheck> exponent_checks(const FitSummary& summary);

/// Standard deviation of ln hours that the fit itself leaves at one load [of one cell], from `covariance`; with this
/// resistance in series, none being the source's own fixture.
double fit_log_sd(const FitSummary& summary, const Load& load, double cutoff_V, const std::optional<Regimen>& regimen,
                  std::optional<double> in_series_ohm = 0.0);

}  // namespace cellarer::cell
