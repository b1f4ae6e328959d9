// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json_fwd.hpp>

#include "model/cell/published.hpp"
#include "tests/bench/report/verdicts.hpp"

/// Real cells: every measured discharge of data/cells that a second specimen of its brand stands beside is replayed to
/// the forecast as the life of one side, and the forecast is held against what the cell then did.
///
/// One cell at a constant current, known exactly. Life ends at 0.90 V under load. Each level that the log names (1.50,
/// 1.45 V ...) is one reading, taken as the loaded voltage falls to it. At 25, 50, 75 and 90 % of its life the forecast
/// is asked for the time that is left:
///
///   brand known     the profile is the fit to the OTHER specimen's rows
///   brand unknown   the family profile, made as data/cells/lr6-family.json is, from the other brands alone
///
/// and each of the two once more without any reading. In neither has the fit seen this cell, nor has its prior seen
/// this brand. The contacts of the measurement are put in series with the profile's cell: for a known brand as the
/// other specimen's fit has them, else as the file states them.
///
/// What it cannot show: bursts, rests, cold, cells in series (no such logs are public), nor lots: two specimens of one
/// brand were bought together.
namespace cellarer::bench {

/// What is asked of a discharge.
struct RealCellCase {
  double current_mA = 0;
  double share_of_life = 0;  ///< that has passed
  bool brand_known = false, with_readings = false;
  bool operator==(const RealCellCase&) const = default;
};

/// One discharge at one moment of its life: clock hours that are left.
struct RealCellForecast : RealCellCase {
  std::string brand, specimen;
  double truth_h = 0;
  double p05_h = 0, p50_h = 0, p95_h = 0;
  /// Brand unknown, with readings: by the whole cell model, and by a plain regression; see below.
  std::optional<double> refitted_h = std::nullopt, regressed_h = std::nullopt;

  double relative_error() const { return p50_h / truth_h - 1; }
  bool covers() const { return p05_h <= truth_h && truth_h <= p95_h; }
  double relative_width() const { return (p95_h - p05_h) / truth_h; }
};

/// All discharges at one current and one share of life, forecast in one way.
struct RealCellRow : RealCellCase {
  int discharges = 0;
  double median_error = 0;  ///< of its size, a fraction of the true remaining time
  double mean_error = 0;    ///< signed: above nought, promised too much
  int covered = 0;          ///< discharges that the 90 % interval covers
  double mean_width = 0;    ///< of that interval, a fraction of the true remaining time
  /// Brand unknown, with readings: the median error of the cell model with all its parameters free, fitted to the same
  /// readings under the covariance of the other brands (real_cells_profiles.hpp). What the readings hold, so the
  /// measure of what the forecast's one capacity and one offset make of them.
  std::optional<double> refitted_error = std::nullopt;
  /// Of the same discharges: the median error of a ridge regression of the log hours of life on the log hours of the
  /// levels that have passed, over the other brands' discharges at this current. No physics.
  std::optional<double> regressed_error = std::nullopt;
};

struct RealCells {
  std::vector<RealCellForecast> forecasts;
  std::vector<RealCellRow> rows;

  /// Throws std::out_of_range where there is none.
  const RealCellRow& row(const RealCellCase& asked) const;
};

/// `cells`: all of data/cells, the family profile among them (std::invalid_argument where it is missing). A second a
/// brand, nearly all of it to learn the family without that brand.
RealCells replay_real_cells(const std::vector<cell::PublishedCell>& cells);

/// The targets at half life at 100 mA.
std::vector<TargetRow> targets_of(const RealCells& real_cells);

/// The table as printed, with the targets beside the rows that have one.
void print(std::ostream& out, const RealCells& real_cells);

/// {"half_life_error": {"known", "unknown"}, "half_life_covered90": {the same, of "discharges"}, "rows": [...]};
/// fractions, not per cent.
nlohmann::json to_json(const RealCells& real_cells);

}  // namespace cellarer::bench
