// SPDX-License-Identifier: MIT
#pragma once
#include <map>

#include "server/json/field.hpp"
#include "server/service/household_record.hpp"
#include "server/service/libraries.hpp"

/// Profiles that stand inside an export, so that a forecast can be made from it where nobody else has them:
/// {"cells": [cell file], "stimulators": [stimulator file], "units": [{"serial", "stimulator": stimulator file}],
///  "before": [{"until": time, "cells", "stimulators", "units"}]}. What a block of "before" does not name is the
/// program's own.
namespace cellarer::api {

/// The libraries, with one such block in front of them.
class InlineProfiles final : public service::Libraries {
 public:
  /// Throws `json::Refused` with the place of what breaks the form.
  InlineProfiles(const service::Libraries& behind, const std::optional<json::Field>& block);

  std::optional<cell::Profile> cell(const std::string& id) const override;
  std::vector<std::string> cell_ids() const override { return behind_.cell_ids(); }
  std::optional<duty::Stimulator> stimulator(const std::string& id) const override;
  std::optional<duty::Stimulator> unit(const std::string& serial, const std::string& id) const override;
  std::vector<std::string> stimulator_ids() const override;
  std::optional<nlohmann::json> stimulator_document(const std::string& id) const override {
    return behind_.stimulator_document(id);
  }
  cell::Profile fit(const nlohmann::json& file, const std::string& place) const override {
    return behind_.fit(file, place);
  }

 private:
  const service::Libraries& behind_;
  std::map<std::string, cell::Profile> cells_;
  std::map<std::string, duty::Stimulator> stimulators_, units_;
};

/// What the household would be with each block of "before": cells that are in gain nothing by a newer profile.
std::vector<service::BeforeApproval> read_before_approvals(const service::HouseholdRecord& record,
                                                           const service::Libraries& libraries,
                                                           const json::Field& profiles);

}  // namespace cellarer::api
