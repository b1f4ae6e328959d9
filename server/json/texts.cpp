// SPDX-License-Identifier: MIT
#include "server/json/texts.hpp"

#include <cstdio>

#include "server/json/field.hpp"

namespace cellarer::json {

nlohmann::json text_or_null(const std::string& text) { return text.empty() ? nlohmann::json() : nlohmann::json(text); }

nlohmann::json time_or_null(const std::optional<Instant>& at, Zone zone) {
  return at ? nlohmann::json(rfc3339(*at, zone)) : nlohmann::json();
}

std::string month_text(std::chrono::year_month month) {
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u", static_cast<int>(month.year()), static_cast<unsigned>(month.month()));
  return text;
}

std::string month_text(const std::optional<std::chrono::year_month>& month) { return month ? month_text(*month) : ""; }

std::string clock_text(std::chrono::minutes after_midnight) {
  char text[32];
  std::snprintf(text, sizeof text, "%02d:%02d", static_cast<int>(after_midnight.count() / 60),
                static_cast<int>(after_midnight.count() % 60));
  return text;
}

std::string three_digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  return text;
}

}  // namespace cellarer::json
