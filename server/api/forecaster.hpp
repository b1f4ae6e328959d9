// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <string>

#include <nlohmann/json.hpp>

#include "model/stock/risk_curve.hpp"
#include "server/service/household_record.hpp"

namespace cellarer::api {

/// What is computed of a household at a moment, as finished documents.
struct MadeForecast {
  std::string forecast;  ///< the forecast's JSON
  Instant next_changing_time;
  std::vector<stock::FreshLife> fresh_lives = {};  ///< of the sides, for what the agency reckons (service/waste.hpp)
};

/// Computes; slow, so on a worker. The service runs on `ModelForecaster`; tests of routes take a fake.
/// Thread-safe, and the same input gives the same bytes.
class Forecaster {
 public:
  virtual ~Forecaster() = default;
  virtual MadeForecast make(const service::HouseholdRecord& record, Instant as_of) const = 0;
  /// The charts' JSON of the forecast of that moment: left, right.
  virtual std::array<std::string, 2> charts(const service::HouseholdRecord& record, Instant as_of) const = 0;
  /// What to pack for a stay: {cells, sets, other, odds_text}.
  virtual nlohmann::json packing(const service::HouseholdRecord& record, const service::Stay& stay,
                                 Instant as_of) const = 0;
  /// The forecast as recorded and the one as typed in, side by side (DEVELOPERS.md, 9.7).
  virtual std::string side_by_side(const service::HouseholdRecord& recorded, const service::HouseholdRecord& typed,
                                   Instant as_of) const = 0;
};

}  // namespace cellarer::api
