// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include <nlohmann/json.hpp>

#include "model/cell/fit.hpp"
#include "model/cell/score.hpp"

/// A fit and the accuracy table as JSON and as text for a terminal. The text is made from the JSON's figures.
namespace cellarer::commands {

nlohmann::json fit_document(const cell::PublishedCell& cell, const cell::FitSummary& summary);
std::string fit_text(const nlohmann::json& document);

nlohmann::json table_document(const cell::AccuracyTable& table);
std::string table_text(const nlohmann::json& document);

}  // namespace cellarer::commands
