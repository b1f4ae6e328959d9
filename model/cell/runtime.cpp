// SPDX-License-Identifier: MIT
#include "model/cell/runtime.hpp"

#include <algorithm>
#include <cmath>

#include "model/cell/discharge.hpp"
#include "model/cell/sentence.hpp"
#include "model/quantities/square.hpp"

namespace cellarer::cell {

namespace {

constexpr double normal_95 = 1.6448536269514722;  // 95 % of a normal distribution lie below
constexpr double hours_a_year = 8766;
constexpr double form_inside = 0.02, form_outside = 0.05;

double temperature_log_sd(double temperature_C) {
  return 0.02 * std::max({0.0, 15 - temperature_C, temperature_C - 30});
}

/// Hours when 2 % a year of the capacity is lost meanwhile: both use the depth that there is.
double with_storage_loss(double hours, double depth, double hours_per_day) {
  const double years = hours * 24 / hours_per_day / hours_a_year;
  return hours / (1 + loss_a_year * years / std::max(depth, 1e-6));
}

std::string range_text(const char* what, double lowest, double highest, const char* unit) {
  const std::string start = std::string("The published ") + what;
  if (highest - lowest < 1e-3 * highest) return start + sentence(" is %.3g ", lowest) + unit;
  return start + sentence("s are %.3g to %.3g ", lowest, highest) + unit;
}

void note_range(const ValidRange& range, const RuntimeRequest& request, Runtime& answer) {
  const double current = mean_current_mA(request.load, request.cutoff_V);
  const auto caution = [&](const std::string& text) {
    answer.inside_range = false;
    answer.cautions.push_back(text);
  };
  if (current < 0.999 * range.lowest_mA || current > 1.001 * range.highest_mA) {
    caution(range_text("current", range.lowest_mA, range.highest_mA, "mA") +
            ": elsewhere the answer rests on what other cells of the family do.");
  }
  if (request.cutoff_V < range.lowest_cutoff_V - 0.001 || request.cutoff_V > range.highest_cutoff_V + 0.001) {
    caution(range_text("cut-off", range.lowest_cutoff_V, range.highest_cutoff_V, "V") +
            ": elsewhere the answer rests on the fitted form.");
  }
  if (request.temperature_C < 15 || request.temperature_C > 30) {
    caution(sentence("%.3g C is outside %.0f to 30 C: no correction is made, only more width.", request.temperature_C,
                     15.0));
  }
}

/// Said where it matters: the resistance is of some size and the hours differ by more than two cells of a brand do.
void note_fixture(Runtime& answer) {
  if (answer.with_fixture_ohm <= 0.05 || answer.bare_hours < 1.02 * answer.hours) return;
  const bool own = answer.with_fixture_ohm == answer.source_fixture_ohm;
  answer.cautions.push_back(sentence(
      own ? "The published rows have %.2g ohm of holder and contacts inside, and so have these hours; the bare "
            "cell gives %.4g h."
          : "These hours have %.2g ohm in series with the cell; the bare cell gives %.4g h.",
      answer.with_fixture_ohm, answer.bare_hours));
}

void set_interval(const Spread& spread, double fit_sd, double residual_sd, const RuntimeRequest& request,
                  Runtime& answer) {
  const double form = std::max(answer.inside_range ? form_inside : form_outside, residual_sd);
  const double variance = square(fit_sd) + square(form) + square(spread.specimen_log_sd) + square(spread.lot_log_sd) +
                          square(spread.brand_log_sd) + square(temperature_log_sd(request.temperature_C));
  answer.log_sd = std::sqrt(variance) * (request.hours_per_day < 24 ? 1.10 : 1.0);
  answer.hours_low = answer.hours * std::exp(-normal_95 * answer.log_sd);
  answer.hours_high = answer.hours * std::exp(normal_95 * answer.log_sd);
  answer.days = answer.hours / request.hours_per_day;
}

/// The curve's form is not known to hold: Peukert's law, inside its loads only.
RuntimeAnswer by_peukert(const PublishedCell& cell, const FitSummary& summary, const RuntimeRequest& request) {
  const double current = mean_current_mA(request.load, request.cutoff_V);
  if (request.fixture_ohm) {
    return {std::nullopt, "Without a curve no fixture can be put in or taken out: " + summary.why_not};
  }
  const auto law = peukert_hours(summary.peukert, current, request.cutoff_V);
  if (!law) {
    const bool published = std::any_of(cell.discharges.begin(), cell.discharges.end(), [&](const Discharge& row) {
      return std::abs(row.cutoff_V - request.cutoff_V) < 1e-6;
    });
    return {std::nullopt, "Of this cell no curve is known: " + summary.why_not +
                              (published ? " At this cut-off one load alone is published, so there is nothing to "
                                           "interpolate between: mend the figures, or add a load."
                                         : " At this cut-off fewer than two loads are published: ask for a cut-off "
                                           "that has two.")};
  }
  if (!law->inside_range) {
    return {std::nullopt,
            sentence("Peukert's law is not carried outside its published currents: %.4g mA is outside them "
                     "at %.3g V.",
                     current, request.cutoff_V)};
  }
  if (law->exponent < 0.95 || law->exponent > 2) {
    return {std::nullopt,
            summary.why_not + sentence(" Peukert's exponent there would be %.2f, at %.3g V, and no cell has "
                                       "that: check the published figures.",
                                       law->exponent, request.cutoff_V)};
  }
  Runtime answer;
  answer.by_peukert = true;
  answer.hours = answer.bare_hours = law->hours;
  answer.capacity_mAh = law->hours * current;
  answer.cautions.push_back("Answered by Peukert's law between neighbouring published loads: " + summary.why_not);
  note_range(summary.range, request, answer);
  set_interval(cell.spread.value_or(Spread{}), 0.05, 0, request, answer);
  return {answer, {}};
}

}  // namespace

RuntimeAnswer runtime(const PublishedCell& cell, const FitSummary& summary, const RuntimeRequest& request) {
  if (request.temperature_C < 5 || request.temperature_C > 50) {
    return {std::nullopt,
            sentence("Nothing is said for %.3g C: it has to be from %.0f to 50 C.", request.temperature_C, 5.0)};
  }
  if (is_rechargeable(cell.designation)) return {std::nullopt, summary.why_not};
  if (!summary.usable) return by_peukert(cell, summary, request);
  std::optional<Regimen> regimen;
  if (request.hours_per_day < 24) regimen = Regimen{3600 * request.hours_per_day, 86400};
  const double source_ohm = summary.parameters[fixture_ohm];
  const Circumstances bare{0, slow_share(regimen, std::exp(summary.parameters[log_tau_min])), 0};
  const Circumstances how{request.fixture_ohm.value_or(source_ohm), bare.slow_share, 0};
  const Discharged ideal = discharge(summary.curve, request.load, request.cutoff_V, how);
  if (ideal.depth <= 0) {
    return {std::nullopt,
            sentence("A fresh cell is already below %.3g V under this load (it stands at %.3g V without load).",
                     request.cutoff_V, summary.curve.open_circuit_V(0))};
  }
  Runtime answer;
  answer.hours = with_storage_loss(ideal.hours, ideal.depth, request.hours_per_day);
  answer.capacity_mAh = ideal.capacity_mAh * answer.hours / ideal.hours;
  answer.source_fixture_ohm = source_ohm;
  answer.with_fixture_ohm = how.fixture_ohm;
  const Discharged alone = discharge(summary.curve, request.load, request.cutoff_V, bare);
  answer.bare_hours = with_storage_loss(alone.hours, alone.depth, request.hours_per_day);
  note_range(summary.range, request, answer);
  note_fixture(answer);
  if (regimen) answer.cautions.push_back("Intermittent: the recovery in the pauses is from literature, not measured.");
  const double fit_sd = fit_log_sd(summary, request.load, request.cutoff_V, regimen, request.fixture_ohm);
  set_interval(cell.spread.value_or(Spread{}), fit_sd, summary.typical_log_residual, request, answer);
  return {answer, {}};
}

namespace {

/// Whether the figures say where the curve lies in mid-life: three or more to 1.1 V and above.
bool knows_mid_life(const PublishedCell& cell) {
  return std::count_if(cell.discharges.begin(), cell.discharges.end(),
                       [](const Discharge& row) { return row.cutoff_V >= 1.1; }) >= 3;
}

/// Then the curve's middle is the family's, and as wide (data/reference/lr6-spread.json).
void wide_in_mid_life(Spread& spread) {
  spread.type_offset_sd_V = 0.0167;
  spread.type_tilt_sd_V = 0.018;
  spread.curve_form_sd_V = 0.0035;
  spread.curve_charge_log_sd = 0.03;
  spread.offset_capacity_correlation = 0.35;
}

}  // namespace

Profile make_profile(const PublishedCell& cell, const FitSummary& summary) {
  constexpr Load pacing{LoadKind::current, 50};  // mid-way, on a logarithmic scale, of what a side draws
  Profile profile;
  profile.id = cell.id;
  profile.designation = cell.designation;
  profile.curve = summary.curve;
  profile.spread = cell.spread.value_or(Spread{});
  profile.usable = summary.usable;
  profile.why_not = summary.why_not;
  if (summary.usable) {
    const double open = fit_log_sd(summary, pacing, 0.9, std::nullopt);
    // A measured cell stands for its type with its own deviation, as cell and as lot, beside what its curve's form
    // misses (data/reference/lr6-spread.json); of a maker's figures the residuals of all rows are what there is to
    // judge by.
    constexpr double form_of_measured = 0.01;
    const auto& spread = profile.spread;
    const bool one_cell = cell.source.basis == Basis::measured && !cell.spread;
    const double form = one_cell ? std::hypot(form_of_measured, spread.specimen_log_sd, spread.lot_log_sd)
                                 : std::max(form_inside, summary.typical_log_residual);
    profile.spread.fit_log_sd = std::sqrt(square(open) + square(form));
    if (!cell.spread && !knows_mid_life(cell)) wide_in_mid_life(profile.spread);
  }
  return profile;
}

}  // namespace cellarer::cell
