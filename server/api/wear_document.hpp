// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "model/review/worn_parts.hpp"

namespace cellarer::api {

/// Worn parts of an agency by kind: their Weibull life, and who is due: {kinds}.
nlohmann::json wear_document(const std::vector<review::WearOfKind>& wear, Instant as_of);

}  // namespace cellarer::api
