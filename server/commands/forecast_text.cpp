// SPDX-License-Identifier: MIT
#include "server/commands/forecast_text.hpp"

#include <cstdio>

namespace cellarer::commands {

namespace {

std::string member_text(const nlohmann::json& document, const char* name) {
  const auto found = document.find(name);
  return found != document.end() && found->is_string() ? found->get<std::string>() : "";
}

std::string line(const char* label, const std::string& text) {
  if (text.empty()) return "";
  char padded[32];
  std::snprintf(padded, sizeof padded, "  %-16s", label);
  return padded + text + "\n";
}

std::string range(const nlohmann::json& document, const char* name, const char* unit) {
  const auto found = document.find(name);
  if (found == document.end() || !found->is_object()) return "";
  char text[96];
  std::snprintf(text, sizeof text, "%.0f %s (90 %%: %.0f to %.0f)", found->value("p50", 0.0), unit,
                found->value("p05", 0.0), found->value("p95", 0.0));
  return text;
}

std::string side_text(const char* name, const nlohmann::json& side) {
  auto sentence = member_text(side, "sentence");
  if (sentence.empty()) sentence = member_text(side, "phrase");
  std::string text = std::string(name) + "  " + sentence + "\n";
  text += line("", member_text(side, "limit"));
  text += line("remaining", range(side, "remaining_h", "h"));
  text += line("change by", member_text(side, "change_by"));
  text += line("no later than", member_text(side, "no_later_than"));
  text += line("last recorded", member_text(side, "last_recorded_at"));
  for (const auto& reason : side.value("because", nlohmann::json::array()))
    text += line("because", reason.get<std::string>());
  for (const auto& question : side.value("questions", nlohmann::json::array()))
    text += line("asks", member_text(question, "text"));
  return text;
}

}  // namespace

std::string forecast_text(const nlohmann::json& forecast) {
  std::string text = member_text(forecast, "disclaimer") + "\n";
  text += member_text(forecast, "household") + ", as of " + member_text(forecast, "as_of") + "\n\n";
  text += side_text("left ", forecast["sides"]["left"]) + "\n" + side_text("right", forecast["sides"]["right"]) + "\n";
  for (const auto& item : forecast.value("stock", nlohmann::json::array())) {
    text += member_text(item, "item") + "\n" + line("", member_text(item, "sentence")) +
            line("lasts", range(item, "days", "days")) + line("order by", member_text(item, "order_by"));
  }
  for (const auto& caution : forecast.value("cautions", nlohmann::json::array()))
    text += "\n" + caution.get<std::string>();
  if (text.back() != '\n') text += "\n";
  return text;
}

}  // namespace cellarer::commands
