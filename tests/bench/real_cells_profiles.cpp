// SPDX-License-Identifier: MIT
#include "tests/bench/real_cells_profiles.hpp"

#include <algorithm>

#include "model/cell/discharge.hpp"
#include "model/cell/runtime.hpp"
#include "model/cell/score_rows.hpp"

namespace cellarer::bench {

namespace {

cell::FitSummary fit_under(const cell::PublishedCell& cell, const cell::FamilyPrior& prior) {
  cell::FitOptions options;
  options.prior = prior;
  return cell::fit(cell, options);
}

/// The profile with what the measurement had in series: a steady current cannot tell it from the cell's own.
cell::Profile with_contacts(cell::Profile profile, double ohm) {
  const auto& curve = profile.curve;
  cell::Curve::Table open_V{}, slow_ohm{}, fast_ohm{};
  for (std::size_t i = 0; i < cell::Curve::points; ++i) {
    const double depth = static_cast<double>(i) / (cell::Curve::points - 1);
    open_V[i] = curve.open_circuit_V(depth);
    slow_ohm[i] = curve.slow_ohm(depth);
    fast_ohm[i] = curve.fast_ohm(depth) + ohm;
  }
  profile.curve = {curve.capacity_mAh(), open_V, slow_ohm, fast_ohm};
  return profile;
}

}  // namespace

std::vector<cell::Discharge> rows_of(const cell::PublishedCell& cell, const std::string& specimen) {
  std::vector<cell::Discharge> rows;
  for (const auto& row : cell.discharges) {
    if (row.specimen == specimen) rows.push_back(row);
  }
  return rows;
}

cell::Profile profile_from_specimen(const cell::PublishedCell& cell, const std::string& other_specimen,
                                    const cell::FamilyPrior& prior) {
  cell::PublishedCell one = cell;
  one.discharges = rows_of(cell, other_specimen);
  const auto fit = fit_under(one, prior);
  return with_contacts(cell::make_profile(one, fit), fit.parameters[cell::fixture_ohm]);
}

cell::Profile profile_of_family(cell::PublishedCell family, const cell::FamilyPrior& prior, double contacts_ohm) {
  const auto mean = cell::curve_of(prior.mean);
  for (auto& row : family.discharges) row.hours = cell::discharge(mean, row.load, row.cutoff_V).hours;
  return with_contacts(cell::make_profile(family, fit_under(family, prior)), contacts_ohm);
}

double refitted_life_h(const cell::PublishedCell& cell, const std::string& specimen, double current_mA, double now_h,
                       const cell::FamilyPrior& prior) {
  cell::PublishedCell passed = cell;
  passed.discharges.clear();
  for (const auto& row : rows_of(cell, specimen)) {
    if (cell::is_current(row, current_mA) && *row.hours <= now_h) passed.discharges.push_back(row);
  }
  const auto fit = fit_under(passed, prior);
  const cell::Circumstances how{fit.parameters[cell::fixture_ohm], 1, 0};
  const cell::Load load{cell::LoadKind::current, current_mA};
  return std::max(cell::discharge(fit.curve, load, real_cell_end_V, how).hours, now_h);
}

}  // namespace cellarer::bench
