// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "model/quantities/time.hpp"

/// How documents write what the standard types leave open.
namespace cellarer::json {

/// null for "", which stands for "not said".
nlohmann::json text_or_null(const std::string& text);

/// As rfc3339 (field.hpp); null for none.
nlohmann::json time_or_null(const std::optional<Instant>& at, Zone zone = nullptr);

/// "2031-06"; "" for none.
std::string month_text(std::chrono::year_month month);
std::string month_text(const std::optional<std::chrono::year_month>& month);

/// "08:00", from minutes after midnight.
std::string clock_text(std::chrono::minutes after_midnight);

/// "12.3", "0.0451", "1.2e+06": three significant digits, for sentences.
std::string three_digits(double value);

}  // namespace cellarer::json
