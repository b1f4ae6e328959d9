// SPDX-License-Identifier: MIT
#include "server/reminders/due.hpp"

#include <algorithm>
#include <sstream>

namespace cellarer::reminders {

using service::ReminderSettings;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr hours usually_ahead{4}, at_least_ahead{1};
constexpr minutes orders_at = hours(10);

Instant time(const nlohmann::json& at) { return json::parse_rfc3339(at.get<std::string>()).value(); }

/// A wall clock that is skipped or comes twice: the earlier instant.
Instant wall(Zone zone, date::local_days day, minutes clock) {
  return date::floor<std::chrono::seconds>(zone->to_sys(day + clock, date::choose::earliest));
}

/// The hour that was asked for, on the changing time's day; never later than an hour before it.
Instant remind_from(Instant due, const ReminderSettings& settings, Zone zone) {
  if (!settings.at) return due - usually_ahead;
  const auto day = date::floor<date::days>(zone->to_local(due));
  return std::min(wall(zone, day, *settings.at), due - at_least_ahead);
}

void add_change(std::vector<Due>& all, const nlohmann::json& forecast, const char* side,
                const ReminderSettings& settings, Zone zone) {
  const auto phrase = forecast["sides"][side]["phrase"].get<std::string>();
  const Instant due = time(forecast["next_changing_time"]);
  if (phrase == "change_now") all.push_back({Due::Is::change_now, side, due, time(forecast["as_of"]), true});
  if (phrase == "change_before_tonight")
    all.push_back({Due::Is::change_tonight, side, due, remind_from(due, settings, zone), true});
}

void add_order(std::vector<Due>& all, const nlohmann::json& item, const ReminderSettings& settings, Zone zone) {
  if (!item["order_by"].is_string() || item.value("order_quantity", 0) <= 0) return;
  std::istringstream text(item["order_by"].get<std::string>());
  date::local_days day;
  text >> date::parse("%F", day);
  if (text.fail()) return;
  const auto from = wall(zone, day - date::days(1), settings.at.value_or(orders_at));
  all.push_back({Due::Is::order, "order:" + item["item"].get<std::string>(), wall(zone, day, minutes(0)), from, false});
}

}  // namespace

Zone zone_of(const nlohmann::json& forecast) { return date::locate_zone(forecast["zone_now"].get<std::string>()); }

bool in_hospital(const nlohmann::json& forecast) {
  const auto stay = forecast.find("in_hospital");
  return stay != forecast.end() && !stay->is_null();
}

std::vector<Due> due_of(const nlohmann::json& forecast, const ReminderSettings& settings) {
  if (in_hospital(forecast)) return {};
  const Zone zone = zone_of(forecast);
  std::vector<Due> all;
  if (settings.changes) {
    for (const char* side : {"left", "right"}) add_change(all, forecast, side, settings, zone);
  }
  if (settings.orders) {
    for (const auto& item : forecast["stock"]) add_order(all, item, settings, zone);
  }
  return all;
}

bool is_time(const Due& due, const ReminderSettings& settings, Zone zone, Instant now) {
  if (now < due.from) return false;
  if (due.urgent || !settings.quiet) return true;
  const auto local = zone->to_local(now);
  const auto clock = std::chrono::floor<minutes>(local - date::floor<date::days>(local));
  const auto [from, to] = *settings.quiet;
  const bool quiet = from < to ? from <= clock && clock < to : clock >= from || clock < to;
  return !quiet;
}

}  // namespace cellarer::reminders
