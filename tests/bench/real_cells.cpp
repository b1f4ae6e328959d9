// SPDX-License-Identifier: MIT
#include "tests/bench/real_cells.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <future>
#include <stdexcept>

#include "model/cell/learn.hpp"
#include "model/cell/score_rows.hpp"
#include "model/life/set_posterior.hpp"
#include "tests/bench/real_cells_profiles.hpp"

namespace cellarer::bench {

namespace {

constexpr std::array shares_of_life{0.25, 0.50, 0.75, 0.90};
constexpr std::array currents_mA{100.0, 500.0};
/// Of a level's hours in the log, as volts: the noise of the fit (cell::Noise::voltage_V).
constexpr double level_sd_V = 0.008;

/// A level of the log and the hours after which the loaded voltage fell to it.
struct Level {
  double volts, hours;
};

/// One logged discharge: falling levels.
struct Log {
  std::string brand, specimen;
  double current_mA = 0;
  std::vector<Level> levels;
  double life_h = 0;
};

Log log_of(const cell::PublishedCell& cell, const std::string& specimen, double current_mA) {
  Log log{cell.brand, specimen, current_mA, {}, 0};
  for (const auto& row : rows_of(cell, specimen)) {
    if (!cell::is_current(row, current_mA)) continue;
    log.levels.push_back({row.cutoff_V, *row.hours});
    if (cell::centivolts(row.cutoff_V) == cell::centivolts(real_cell_end_V)) log.life_h = *row.hours;
  }
  if (!(log.life_h > 0)) throw std::invalid_argument(cell.id + ": a log that does not reach the end of life");
  return log;
}

/// A household whose left side is one cell at this current without a pause.
life::Household laboratory(double current_mA, Instant start) {
  duty::Stimulator unit;
  unit.id = "laboratory";
  unit.basis = "bench";
  unit.cells_in_series = 1;
  unit.cutoff_V = real_cell_end_V;
  unit.converter = duty::Converter::constant_current;
  unit.left.burst_base_mA = unit.left.rest_mA = unit.left.standby_mA = current_mA;
  unit.right = unit.left;
  unit.gauge.volts_at_percent = {{100, 1.5}, {0, real_cell_end_V}};
  life::Household household;
  household.zone = date::locate_zone("Etc/UTC");
  household.units.push_back({"laboratory", unit, start});
  duty::Settings settings;
  settings.from = start;
  settings.side = Side::left;
  household.settings.push_back(settings);
  return household;
}

/// The only place that knows how the forecast is told of a load that is known exactly and has no days.
life::SetPosterior belief_at_start(const life::Course& course, const cell::Profile& cell) {
  constexpr double exactly = 0.002;
  life::SetPosterior::Setup setup;
  setup.course = &course;
  setup.cell = &cell;
  setup.day_log_sd = exactly;
  // A specimen about its brand's curve, and that curve about its fit; no gauge is read.
  const double capacity_variance =
      std::pow(life::own_capacity_log_sd(cell.spread, 1, 0), 2) + std::pow(life::type_capacity_log_sd(cell.spread), 2);
  const double tilt_sd_V = std::hypot(cell.spread.curve_tilt_sd_V, cell.spread.type_tilt_sd_V);
  const double offset_sd_V = std::hypot(cell.spread.curve_sd_V, cell.spread.type_offset_sd_V);
  setup.prior.belief.cov =
      life::SetBelief::Vector(exactly * exactly, 1, offset_sd_V * offset_sd_V, tilt_sd_V * tilt_sd_V, capacity_variance)
          .asDiagonal();
  const double together = cell.spread.offset_capacity_correlation * offset_sd_V * std::sqrt(capacity_variance);
  setup.prior.belief.cov(life::row_offset, life::row_capacity) = together;
  setup.prior.belief.cov(life::row_capacity, life::row_offset) = together;
  setup.grid.use = 3;
  setup.grid.capacity = 61;
  return life::SetPosterior(setup);
}

RealCellForecast forecast(const Log& log, const cell::Profile& profile, double share_of_life, bool with_readings) {
  constexpr Instant start = std::chrono::sys_days(std::chrono::year(2026) / 1 / 5);
  const auto household = laboratory(log.current_mA, start);
  const life::Course course(household, Side::left, start, hours_after(start, 4 * log.life_h));
  auto belief = belief_at_start(course, profile);
  const double now_h = share_of_life * log.life_h;
  for (const auto& level : log.levels) {
    if (!with_readings || level.hours > now_h) continue;
    life::Observation reading{hours_after(start, level.hours)};
    reading.scale = life::Observation::Scale::volts;
    reading.low = reading.high = level.volts;
    reading.white_sd = level_sd_V;
    belief.observe(reading);
  }
  belief.alive_at(hours_after(start, now_h));
  const auto cutoff = belief.cutoff();
  const auto left_h = [&](double probability) {
    return std::max(cutoff.charge(probability) / log.current_mA - now_h, 0.0);
  };
  RealCellForecast forecast{{log.current_mA, share_of_life, false, with_readings}, log.brand, log.specimen};
  forecast.truth_h = log.life_h - now_h;
  forecast.p05_h = left_h(0.05);
  forecast.p50_h = left_h(0.50);
  forecast.p95_h = left_h(0.95);
  return forecast;
}

/// All moments of one discharge, forecast from one profile; `prior` where the brand is unknown, and `cells` to regress
/// on.
void replay(const std::vector<cell::PublishedCell>& cells, const cell::PublishedCell& cell, const std::string& specimen,
            const cell::Profile& profile, const cell::FamilyPrior* prior, std::vector<RealCellForecast>& into) {
  for (const double current_mA : currents_mA) {
    const auto log = log_of(cell, specimen, current_mA);
    for (const double share : shares_of_life) {
      for (const bool with_readings : {true, false}) {
        auto& made = into.emplace_back(forecast(log, profile, share, with_readings));
        made.brand_known = prior == nullptr;
        if (prior == nullptr || !with_readings) continue;
        const double now_h = share * log.life_h;
        made.refitted_h = refitted_life_h(cell, specimen, current_mA, now_h, *prior) - now_h;
        made.regressed_h = regressed_life_h(cells, cell, specimen, current_mA, now_h) - now_h;
      }
    }
  }
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

RealCellRow row_of(const std::vector<RealCellForecast>& forecasts, const RealCellCase& asked) {
  RealCellRow row{asked};
  std::vector<double> sizes, refitted, regressed;
  for (const auto& one : forecasts) {
    if (static_cast<const RealCellCase&>(one) != asked) continue;
    sizes.push_back(std::abs(one.relative_error()));
    if (one.refitted_h) refitted.push_back(std::abs(*one.refitted_h / one.truth_h - 1));
    if (one.regressed_h) regressed.push_back(std::abs(*one.regressed_h / one.truth_h - 1));
    row.mean_error += one.relative_error();
    row.mean_width += one.relative_width();
    row.covered += one.covers() ? 1 : 0;
  }
  row.discharges = static_cast<int>(sizes.size());
  if (sizes.empty()) return row;
  row.mean_error /= row.discharges;
  row.mean_width /= row.discharges;
  row.median_error = median(std::move(sizes));
  if (!refitted.empty()) row.refitted_error = median(std::move(refitted));
  if (!regressed.empty()) row.regressed_error = median(std::move(regressed));
  return row;
}

}  // namespace

const RealCellRow& RealCells::row(const RealCellCase& asked) const {
  for (const auto& one : rows) {
    if (static_cast<const RealCellCase&>(one) == asked) return one;
  }
  throw std::out_of_range("real cells: no such row");
}

RealCells replay_real_cells(const std::vector<cell::PublishedCell>& cells) {
  const auto family = std::find_if(cells.begin(), cells.end(), [](const cell::PublishedCell& cell) {
    return cell.family && cell.designation == "LR6";
  });
  if (family == cells.end()) throw std::invalid_argument("real cells: no family profile among the cells");
  RealCells result;
  const auto replayed = [&](const cell::PublishedCell& cell) {
    std::vector<RealCellForecast> forecasts;
    const auto prior = cell::learn_prior(cell::learnable(cells, cell.brand), {});
    const auto unknown = profile_of_family(*family, prior, cell.source.fixture_ohm.value_or(0.10));
    const auto specimens = specimens_of(cell);
    for (std::size_t i = 0; i < specimens.size(); ++i) {
      const auto& other = specimens[(i + 1) % specimens.size()];
      replay(cells, cell, specimens[i], profile_from_specimen(cell, other, prior), nullptr, forecasts);
      replay(cells, cell, specimens[i], unknown, &prior, forecasts);
    }
    return forecasts;
  };
  std::vector<std::future<std::vector<RealCellForecast>>> brands;
  for (const auto& cell : cells) {
    if (cell::has_both_loads(cell)) brands.push_back(std::async(std::launch::async, replayed, std::cref(cell)));
  }
  for (auto& brand : brands) {
    for (auto& one : brand.get()) result.forecasts.push_back(std::move(one));
  }
  for (const double current_mA : currents_mA) {
    for (const double share : shares_of_life) {
      for (const bool known : {true, false}) {
        for (const bool read : {true, false}) {
          result.rows.push_back(row_of(result.forecasts, {current_mA, share, known, read}));
        }
      }
    }
  }
  return result;
}

}  // namespace cellarer::bench
