// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "model/review/finding.hpp"

namespace cellarer::service {

/// A finding as the API shows it and as a note keeps it, without its state: {id, kind, title, household, scope,
/// subject, raised_at, from, ended_at, more_percent, low_percent, high_percent, probability, probability_text, causes,
/// named, verdict, evidence, next, text}. Times by the zone's clock; a null zone: UTC.
nlohmann::json finding_document(const review::Finding& finding, Zone zone);

}  // namespace cellarer::service
