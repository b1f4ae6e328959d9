// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/forecaster.hpp"

namespace cellarer::api {

/// The forecaster that the service runs on: the model itself, written as documents.
class ModelForecaster final : public Forecaster {
 public:
  MadeForecast make(const service::HouseholdRecord& record, Instant as_of) const override;
  std::array<std::string, 2> charts(const service::HouseholdRecord& record, Instant as_of) const override;
  nlohmann::json packing(const service::HouseholdRecord& record, const service::Stay& stay,
                         Instant as_of) const override;
  std::string side_by_side(const service::HouseholdRecord& recorded, const service::HouseholdRecord& typed,
                           Instant as_of) const override;
};

}  // namespace cellarer::api
