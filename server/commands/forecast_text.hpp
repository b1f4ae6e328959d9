// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include <nlohmann/json.hpp>

namespace cellarer::commands {

/// A forecast's document as plain text for a terminal: the disclaimer first, then the sides, then the stock.
/// Takes its sentences from the document and adds none.
std::string forecast_text(const nlohmann::json& forecast);

}  // namespace cellarer::commands
