// SPDX-License-Identifier: MIT
#include "server/commands/forecast_text.hpp"

#include <cstdio>

namespace cellarer::commands {

using nlohmann::json;

namespace {

std::string text_of(const json& document, const char* name) {
  const auto found = document.find(name);
  return found != document.end() && found->is_string() ? found->get<std::string>() : "";
}

std::string line(const char* label, const std::string& text) {
  if (text.empty()) return "";
  char padded[32];
  std::snprintf(padded, sizeof padded, "  %-16s", label);
  return padded + text + "\n";
}

std::string range(const json& document, const char* name, const char* unit) {
  const auto found = document.find(name);
  if (found == document.end() || !found->is_object()) return "";
  char text[96];
  std::snprintf(text, sizeof text, "%.0f %s (90 %%: %.0f to %.0f)", found->value("p50", 0.0), unit,
                found->value("p05", 0.0), found->value("p95", 0.0));
  return text;
}

std::string side_text(const char* name, const json& side) {
  auto sentence = text_of(side, "sentence");
  if (sentence.empty()) sentence = text_of(side, "phrase");
  std::string text = std::string(name) + "  " + sentence + "\n";
  text += line("", text_of(side, "limit"));
  text += line("remaining", range(side, "remaining_h", "h"));
  text += line("change by", text_of(side, "change_by"));
  text += line("no later than", text_of(side, "no_later_than"));
  text += line("last recorded", text_of(side, "last_recorded_at"));
  for (const auto& reason : side.value("because", json::array())) text += line("because", reason.get<std::string>());
  for (const auto& question : side.value("questions", json::array())) text += line("asks", text_of(question, "text"));
  return text;
}

}  // namespace

std::string forecast_text(const json& forecast) {
  std::string text = text_of(forecast, "disclaimer") + "\n";
  text += text_of(forecast, "household") + ", as of " + text_of(forecast, "as_of") + "\n\n";
  text += side_text("left ", forecast["sides"]["left"]) + "\n" + side_text("right", forecast["sides"]["right"]) + "\n";
  for (const auto& item : forecast.value("stock", json::array())) {
    text += text_of(item, "item") + "\n" + line("", text_of(item, "sentence")) +
            line("lasts", range(item, "days", "days")) + line("order by", text_of(item, "order_by"));
  }
  for (const auto& caution : forecast.value("cautions", json::array())) text += "\n" + caution.get<std::string>();
  if (text.back() != '\n') text += "\n";
  return text;
}

}  // namespace cellarer::commands
