// SPDX-License-Identifier: MIT
#include "tests/bench/real_cells_profiles.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "model/cell/discharge.hpp"
#include "model/cell/runtime.hpp"
#include "model/cell/score_rows.hpp"
#include "model/numerics/ridge.hpp"

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

/// Log hours by cut-off in hundredths of a volt, of one specimen at one current.
std::map<int, double> log_hours_of(const cell::PublishedCell& cell, const std::string& specimen, double current_mA) {
  std::map<int, double> found;
  for (const auto& row : rows_of(cell, specimen)) {
    if (cell::is_current(row, current_mA) && row.hours > 0)
      found[cell::centivolts(row.cutoff_V)] = std::log(*row.hours);
  }
  return found;
}

}  // namespace

std::vector<cell::Discharge> rows_of(const cell::PublishedCell& cell, const std::string& specimen) {
  std::vector<cell::Discharge> rows;
  for (const auto& row : cell.discharges) {
    if (row.specimen == specimen) rows.push_back(row);
  }
  return rows;
}

std::vector<std::string> specimens_of(const cell::PublishedCell& cell) {
  std::vector<std::string> names;
  for (const auto& row : cell.discharges) {
    if (std::find(names.begin(), names.end(), row.specimen) == names.end()) names.push_back(row.specimen);
  }
  return names;
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

double regressed_life_h(const std::vector<cell::PublishedCell>& cells, const cell::PublishedCell& cell,
                        const std::string& specimen, double current_mA, double now_h) {
  // A brand's specimens count as one, their mean: a twin that is left in would choose too small a penalty.
  std::vector<std::map<int, double>> others;
  for (const auto& other : cells) {
    if (!cell::has_both_loads(other) || other.brand == cell.brand) continue;
    const auto specimens = specimens_of(other);
    auto mean = log_hours_of(other, specimens.front(), current_mA);
    for (std::size_t i = 1; i < specimens.size(); ++i) {
      const auto twin = log_hours_of(other, specimens[i], current_mA);
      std::erase_if(mean, [&](const auto& level) { return !twin.contains(level.first); });
      for (auto& [level, log_hours] : mean) log_hours += (twin.at(level) - log_hours) / static_cast<double>(i + 1);
    }
    others.push_back(std::move(mean));
  }
  const auto own = log_hours_of(cell, specimen, current_mA);
  std::vector<int> passed;
  for (const auto& [level, log_hours] : own) {
    const bool by_all =
        std::all_of(others.begin(), others.end(), [&, at = level](const auto& one) { return one.contains(at); });
    if (log_hours <= std::log(now_h) && by_all) passed.push_back(level);
  }
  const auto row_of = [&](const std::map<int, double>& log_hours) {
    Eigen::RowVectorXd row(static_cast<Eigen::Index>(passed.size()));
    for (std::size_t i = 0; i < passed.size(); ++i) row[static_cast<Eigen::Index>(i)] = log_hours.at(passed[i]);
    return row;
  };
  const auto examples = static_cast<Eigen::Index>(others.size());
  Eigen::MatrixXd x(examples, static_cast<Eigen::Index>(passed.size())), y(examples, 1);
  for (Eigen::Index i = 0; i < examples; ++i) {
    const auto& other = others[static_cast<std::size_t>(i)];
    x.row(i) = row_of(other);
    y(i, 0) = other.at(cell::centivolts(real_cell_end_V));
  }
  if (passed.empty()) return std::max(std::exp(y.mean()), now_h);
  const double penalty = numerics::best_penalty(x, y, 1e-4, 10, 26);
  return std::max(std::exp(numerics::Ridge(x, y, penalty).predict(row_of(own))[0]), now_h);
}

}  // namespace cellarer::bench
