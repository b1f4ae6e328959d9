// SPDX-License-Identifier: MIT
#include "server/service/reminder_settings.hpp"

#include <cstdio>

namespace cellarer::service {

using json::Field;
using std::chrono::minutes;

namespace {

minutes read_clock(const Field& time) {
  const auto read = time.time_of_day();
  if (read == std::chrono::hours(24)) time.refuse("out-of-range", "expected 00:00 to 23:59");
  return read;
}

nlohmann::json clock(const std::optional<minutes>& time) {
  if (!time) return nullptr;
  char text[16];
  std::snprintf(text, sizeof text, "%02d:%02d", static_cast<int>(time->count() / 60),
                static_cast<int>(time->count() % 60));
  return text;
}

}  // namespace

ReminderSettings read_reminder_settings(const Field& body) {
  ReminderSettings settings;
  settings.changes = settings.orders = false;
  for (const Field& one : body["what"].elements(2)) {
    bool& wanted = one.word({"changes", "orders"}) == 0 ? settings.changes : settings.orders;
    if (wanted) one.refuse("out-of-range", "is named twice: name each once");
    wanted = true;
  }
  if (const auto at = body.find("at")) settings.at = read_clock(*at);
  settings.quiet.reset();
  if (const auto quiet = body.find("quiet")) {
    settings.quiet = {read_clock((*quiet)["from"]), read_clock((*quiet)["to"])};
    if (settings.quiet->from == settings.quiet->to)
      quiet->refuse("out-of-range", "begins when it ends: give two times, or none");
  }
  settings.plain = body["words"].word({"neutral", "plain"}) == 1;
  settings.second_after.reset();
  if (const auto second = body.find("second_after_min")) settings.second_after = minutes(second->integer(10, 720));
  return settings;
}

nlohmann::json reminder_settings_document(const ReminderSettings& settings) {
  auto what = nlohmann::json::array();
  if (settings.changes) what.push_back("changes");
  if (settings.orders) what.push_back("orders");
  nlohmann::json quiet = nullptr;
  if (settings.quiet) quiet = {{"from", clock(settings.quiet->from)}, {"to", clock(settings.quiet->to)}};
  nlohmann::json second = nullptr;
  if (settings.second_after) second = settings.second_after->count();
  return {{"what", what},
          {"at", clock(settings.at)},
          {"quiet", quiet},
          {"words", settings.plain ? "plain" : "neutral"},
          {"second_after_min", second}};
}

}  // namespace cellarer::service
