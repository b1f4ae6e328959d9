// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "model/quantities/time.hpp"
#include "server/service/entry.hpp"

namespace cellarer::api {

/// One entry as the API shows it: {id, kind, at, recorded_at, who, voided_by, body, text}.
nlohmann::json entry_document(const service::Entry& entry, Zone zone);

/// What was recorded, in one sentence, from the body as it was sent: "Left: the gauge showed 62 %." A field that is
/// null was not said.
std::string entry_text(const std::string& kind, const nlohmann::json& body);

}  // namespace cellarer::api
