// SPDX-License-Identifier: MIT
#include "model/review/finished_sets.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "model/life/lessons.hpp"
#include "model/quantities/square.hpp"

namespace cellarer::review {

namespace {

/// Before a set's readings: wide in use, so that what is taken off again is small.
constexpr double wide_log_use_sd = 0.2;
constexpr int use_nodes = 65;
/// How often, and how far at most the belief is moved.
constexpr int looks = 2;
constexpr double furthest_log_use = 0.5;
constexpr double least_precision = 1 / (0.25 * 0.25);

life::SetBelief before_readings(const duty::Stimulator& unit, const cell::Profile& cell, double stored_log_sd) {
  life::SetBelief belief;
  const double n = unit.cells_in_series;
  const double offset = square(n * cell.spread.type_offset_sd_V) + n * square(cell.spread.curve_sd_V);
  const double tilt = square(n * cell.spread.type_tilt_sd_V) + n * square(cell.spread.curve_tilt_sd_V);
  const double own = life::own_capacity_log_sd(cell.spread, unit.cells_in_series, stored_log_sd);
  const double capacity = square(own) + square(life::type_capacity_log_sd(cell.spread));
  belief.cov = life::SetBelief::Vector(square(wide_log_use_sd), square(std::max(unit.gauge.bias_points, 1.0)), offset,
                                       tilt, capacity)
                   .asDiagonal();
  const double together = cell.spread.offset_capacity_correlation * std::sqrt(offset * capacity);
  belief.cov(life::row_offset, life::row_capacity) = belief.cov(life::row_capacity, life::row_offset) = together;
  return belief;
}

/// d ln(mean current) / d(exponent), as in life/learning.hpp.
double loading_of_phase(const duty::SideElectronics& electronics, const duty::BreathLoad& load) {
  const double grown_mA = load.burst_mA - electronics.burst_base_mA;
  if (grown_mA <= 0 || electronics.burst_slope_mA <= 0 || load.mean_mA() <= 0) return 0;
  return load.fraction * grown_mA / load.mean_mA() * std::log(grown_mA / electronics.burst_slope_mA) /
         electronics.exponent;
}

/// A set whose settings changed feels the exponent as each of its phases does, by the charge that it drew in them.
double exponent_loading(const life::Course& course) {
  const auto& phases = course.phases();
  const double whole_mAh = course.charge_mAh(course.to());
  double loading = 0;
  for (std::size_t i = 0; i < phases.size(); ++i) {
    const double until_mAh = i + 1 < phases.size() ? phases[i + 1].charge_from_mAh : whole_mAh;
    const double share = whole_mAh > 0 ? (until_mAh - phases[i].charge_from_mAh) / whole_mAh : 0;
    loading += share * loading_of_phase(phases[i].unit->side(course.side()), phases[i].pacing);
  }
  return loading;
}

/// The settings of a set: those that it went in under, and how they changed until it came out.
void add_settings(SetRecord& record, const life::Household& household) {
  for (const auto& settings : life::settings_of(household, record.side)) {
    if (settings.from <= record.from) record.settings = settings;
    // What was written down first is taken to have held before (life/course.hpp): no change.
    else if (settings.from < record.to && record.settings)
      record.changes.push_back({settings, 0});
  }
}

std::optional<ObservedUse> observe(const life::Household& household, const life::Course& course,
                                   const life::Stint& stint, life::LoadTables& tables) {
  if (!life::may_teach(household, course.side(), stint)) return std::nullopt;
  const auto& cell = *life::cells_in_side(household, stint.in.cells).profile;
  life::SetStorySetup setup;
  setup.course = &course;
  setup.cell = &cell;
  setup.tables = &tables;
  setup.prior.belief =
      before_readings(*course.phases().front().unit, cell, life::storage(stint.in.cells.expires, stint.in.at).log_sd);
  setup.grid.use = use_nodes;
  std::optional<ObservedUse> seen;
  // Readings are no straight line of use, and those far from what was believed are doubted; taking the belief off again
  // leaves some of its pull. So it is moved to where the readings are, and they are looked at again.
  for (int look = 0; look < looks; ++look) {
    const auto story = life::follow(setup, stint);
    if (!story.agrees) break;
    auto again = observed_use(setup.prior.belief, story.lesson.belief);
    if (!again) break;
    const double end_mAh = story.posterior->cutoff().charge(0.5);
    again->depth = end_mAh > 0 ? std::min(course.charge_mAh(course.to()) / end_mAh, 1.0) : 0;
    again->readings = story.readings_used;
    seen = again;
    setup.prior.belief.mean[life::row_use] = std::clamp(again->log_ratio, -furthest_log_use, furthest_log_use);
  }
  return seen;
}

SetRecord record_of(const life::Household& household, const std::string& name, Side side, const life::Stint& stint,
                    life::LoadTables& tables) {
  SetRecord record;
  record.household = name;
  record.side = side;
  record.from = stint.in.at;
  record.to = stint.out->at;
  record.cell_type = stint.in.cells.profile.value_or("");
  record.lot = stint.in.cells.lot.value_or("");
  record.ended = stint.out->reason;
  add_settings(record, household);
  if (const auto unit = life::unit_in_use(household, stint.in.at)) {
    record.unit = household.units[*unit].serial;
    record.stimulator = household.units[*unit].stimulator.id;
  }
  if (household.units.empty() || record.to <= record.from) return record;
  const life::Course course(household, side, record.from, record.to);
  if (course.phases().empty()) return record;
  record.expected_mAh = course.charge_mAh(course.to());
  record.exponent_loading = exponent_loading(course);
  if (record.expected_mAh <= 0) return record;
  for (auto& change : record.changes) change.share_before = course.charge_mAh(change.to.from) / record.expected_mAh;
  record.observed = observe(household, course, stint, tables);
  return record;
}

}  // namespace

std::optional<ObservedUse> observed_use(const life::SetBelief& before, const life::SetBelief& after) {
  // Capacity is integrated out of both: the first three.
  const Eigen::Matrix3d precision_after = after.cov.topLeftCorner<3, 3>().inverse();
  Eigen::Matrix3d told = precision_after;
  Eigen::Vector3d pull = precision_after * after.mean.head<3>();
  for (const int row : {life::row_use, life::row_bias}) {
    told(row, row) -= 1 / before.cov(row, row);
    pull[row] -= before.mean[row] / before.cov(row, row);
  }
  const double offset = told(life::row_offset, life::row_offset);
  if (!(offset > 0)) return std::nullopt;
  const auto without_offset = [&](int a, int b) {
    return told(a, b) - told(a, life::row_offset) * told(b, life::row_offset) / offset;
  };
  const double use = without_offset(life::row_use, life::row_use);
  if (!(use >= least_precision)) return std::nullopt;
  ObservedUse seen;
  seen.log_ratio =
      (pull[life::row_use] - told(life::row_use, life::row_offset) * pull[life::row_offset] / offset) / use;
  seen.standard_error = 1 / std::sqrt(use);
  seen.bias_loading = without_offset(life::row_use, life::row_bias) / use;
  return seen;
}

std::vector<SetRecord> finished_sets(const life::Household& household, const std::string& name, Instant as_of,
                                     life::LoadTables& tables) {
  std::vector<SetRecord> records;
  for (const auto side : both_sides) {
    for (const auto& stint : life::stints(household, side, as_of)) {
      if (stint.out) records.push_back(record_of(household, name, side, stint, tables));
    }
  }
  std::stable_sort(records.begin(), records.end(), [](const SetRecord& a, const SetRecord& b) { return a.to < b.to; });
  return records;
}

}  // namespace cellarer::review
