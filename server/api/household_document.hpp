// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/json/field.hpp"
#include "server/service/household_record.hpp"
#include "server/service/libraries.hpp"

/// A household as a document: the API's export, and what `cellarer forecast` reads (DEVELOPERS.md, files;
/// data/schema/household.schema.json). What is written here and read again gives the same forecast, and
/// is written as the same document again.
namespace cellarer::api {

/// Throws `json::Refused` with the place of what breaks the form. Profiles given inside come before those
/// of the libraries. Stock is taken as it stands in the document: changes of cells in it do not use it.
service::HouseholdRecord read_household(const json::Field& document, const service::Libraries& libraries);

/// `now`: the stock is written as it stands by the books at that time.
nlohmann::json household_document(const service::HouseholdRecord& record, Instant now);

/// Parts that other documents use too.
nlohmann::json household_head(const service::HouseholdRecord& record);
nlohmann::json unit_document(const service::UnitRecord& unit, Zone zone);
nlohmann::json stay_document(const service::Stay& stay, Zone zone);
nlohmann::json settings_document(const duty::Settings& settings, Zone zone);
nlohmann::json stock_line_document(const stock::Line& line);
nlohmann::json reading_document(const life::Reading& reading, Zone zone);

}  // namespace cellarer::api
