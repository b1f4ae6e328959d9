// SPDX-License-Identifier: MIT
#include "model/cell/judge.hpp"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "model/cell/discharge.hpp"
#include "model/cell/sentence.hpp"

namespace cellarer::cell {

namespace {

constexpr double most_open = 0.25;

std::string why_not(const PublishedCell& cell, const FitOptions& options, const FitSummary& summary) {
  if (is_rechargeable(cell.designation)) {
    return cell.designation +
           " is rechargeable: its voltage hardly falls before it collapses, so there is no forecast.";
  }
  if (!is_alkaline(cell.designation) || cell.nominal_V < 1.4 || cell.nominal_V > 1.6) {
    return "The form of the curve is known for single alkaline cells of 1.5 V (LR...) only, and this is " +
           cell.designation + sentence(" of %.3g V.", cell.nominal_V);
  }
  const auto used =
      std::count_if(summary.points.begin(), summary.points.end(), [](const FittedPoint& p) { return p.in_fit; });
  if (used == 0) return "No published discharge is in the fit (5 to 50 C are).";
  if (summary.rms_log_residual > options.usable_rms) {
    return sentence(
        "The figures do not fit one cell: they are off by %.0f %% (root mean square), the limit is %.0f %%.",
        100 * summary.rms_log_residual, 100 * options.usable_rms);
  }
  if (!summary.converged) return "The fit did not converge: " + summary.why_it_stopped;
  const double open = fit_log_sd(summary, {LoadKind::current, 50}, 0.9, std::nullopt);
  if (!(open <= most_open)) {
    return sentence("The figures leave the hours at 50 mA open by %.0f %%, the limit is %.0f %%.", 100 * open,
                    100 * most_open);
  }
  return {};
}

/// Squared distance of the fit from the family's mean, in standard deviations, over the number of parameters.
double distance_from(const FamilyPrior& family, const Parameters& parameters) {
  Parameters from_mean = parameters - family.mean;
  from_mean[fixture_ohm] = 0;  // the source's, not the cell's
  return from_mean.dot(family.covariance.llt().solve(from_mean)) / static_cast<double>(parameter_count);
}

void note_points(const PublishedCell& cell, FitSummary& summary) {
  for (std::size_t i = 0; i < summary.points.size(); ++i) {
    const FittedPoint& point = summary.points[i];
    if (point.in_fit && std::abs(point.log_residual) > std::max(0.12, 3 * point.log_sd)) {
      summary.cautions.push_back(sentence("Discharge %zu (to %.3g V) is off by %+.0f %%.", i,
                                          cell.discharges[i].cutoff_V, 100 * std::expm1(point.log_residual)));
    }
    const double temperature = cell.discharges[i].temperature_C;
    if (temperature < 5 || temperature > 50) {
      summary.cautions.push_back(sentence("Discharge %zu is left out: %.3g C is outside 5 to 50 C.", i, temperature));
    }
  }
}

void note_exponents(FitSummary& summary) {
  for (const ExponentCheck& check : exponent_checks(summary)) {
    if (std::abs(check.published - check.fitted) > 0.15) {
      summary.cautions.push_back(
          sentence("Peukert's exponent from %.4g to %.4g mA at %.3g V is %.2f as published and %.2f as fitted.",
                   check.from_mA, check.to_mA, check.cutoff_V, check.published, check.fitted));
    }
  }
}

}  // namespace

std::vector<ExponentCheck> exponent_checks(const FitSummary& summary) {
  std::vector<ExponentCheck> checks;
  const Circumstances how{summary.parameters[fixture_ohm], 1, 0};
  for (const PeukertCutoff& at : summary.peukert.cutoffs) {
    for (const PeukertRange& range : at.ranges) {
      const double slow = discharge(summary.curve, {LoadKind::current, range.from_mA}, at.cutoff_V, how).hours;
      const double fast = discharge(summary.curve, {LoadKind::current, range.to_mA}, at.cutoff_V, how).hours;
      checks.push_back({at.cutoff_V, range.from_mA, range.to_mA, range.exponent,
                        std::log(slow / fast) / std::log(range.to_mA / range.from_mA)});
    }
  }
  return checks;
}

void judge(const PublishedCell& cell, const FamilyPrior& family, const FitOptions& options, FitSummary& summary) {
  summary.why_not = why_not(cell, options, summary);
  summary.usable = summary.why_not.empty();
  note_points(cell, summary);
  note_exponents(summary);
  if (cell.discharges.size() == 1) {
    summary.cautions.push_back("One point: everything else is what other cells of the family do.");
  }
  if (summary.range.lowest_mA > 60) {
    summary.cautions.push_back(sentence(
        "The lowest published current is %.3g mA: below it the hours rest on the family.", summary.range.lowest_mA));
  }
  if (summary.parameters[fixture_ohm] > 0.05) {
    summary.cautions.push_back(sentence(
        "The published rows have %.2g ohm of holder and contacts inside, by this fit; the curve is of the bare cell.",
        summary.parameters[fixture_ohm]));
  }
  const double distance = distance_from(family, summary.parameters);
  if (distance > 2) summary.cautions.push_back("This cell lies far from the family: check the file's units and loads.");
}

}  // namespace cellarer::cell
