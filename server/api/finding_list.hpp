// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/review_book.hpp"

namespace cellarer::api {

/// A finding with its state, who did what about it, and the households that it touches.
nlohmann::json listed_document(const service::ListedFinding& finding);

/// All of one household, in the list's order.
nlohmann::json findings_of(const service::ReviewedAgency& agency, const std::string& household);

}  // namespace cellarer::api
