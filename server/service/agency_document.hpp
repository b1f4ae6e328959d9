// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "model/life/agency.hpp"
#include "server/json/field.hpp"

/// What an agency's households have in common, as it is kept and exported: {"household_log_sd", "side_log_sd",
/// "set_log_sd", "drift_log_sd_per_month", "models": {id: {"use_mean", "channel_log_sd", "bias_mean_points",
/// "bias_sd_points", "exponent_mean", "exponent_sd", "gauge_noise_scale"}}}. What is left out is as assumed.
namespace cellarer::service {

nlohmann::json agency_document(const life::AgencyKnowledge& agency);
/// Throws `json::Refused`.
life::AgencyKnowledge read_agency(const json::Field& document);

}  // namespace cellarer::service
