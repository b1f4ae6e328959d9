// SPDX-License-Identifier: MIT
#include "server/reminders/feed.hpp"

#include <sstream>

#include "server/access/secrets.hpp"
#include "server/reminders/words.hpp"

namespace cellarer::reminders {

using calendar::Event;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr minutes shown_for{30};

/// Of one set of cells, or one item: what is recorded begins another.
std::string uid_of(const std::string& feed, const std::string& subject, const std::string& mark) {
  return access::base64url(access::sha256(feed + "\n" + subject + "\n" + mark)).substr(0, 22) + "@cellarer";
}

class Writer {
 public:
  Writer(const nlohmann::json& forecast, const service::ReminderSettings& settings, const std::string& feed,
         const std::string& page, Language language, const Sequences& sequences)
      : forecast_(forecast),
        settings_(settings),
        feed_(feed),
        page_(page),
        language_(language),
        sequences_(sequences),
        as_of_(json::parse_rfc3339(forecast["as_of"].get<std::string>()).value()) {}

  void change(calendar::Calendar& calendar, const char* side) const {
    const auto& one = forecast_["sides"][side];
    if (!one["change_by"].is_string()) return;
    const Instant at = json::parse_rfc3339(one["change_by"].get<std::string>()).value();
    Event event = begun(side, one["cells_since"].is_string() ? one["cells_since"].get<std::string>() : "", at);
    event.starts = at;
    event.ends = at + shown_for;
    for (const hours before : {hours(24), hours(10), hours(2)}) event.alarms.push_back({before, event.summary});
    calendar.events.push_back(std::move(event));
  }

  void order(calendar::Calendar& calendar, const nlohmann::json& item) const {
    if (!item["order_by"].is_string() || item.value("order_quantity", 0) <= 0) return;
    std::istringstream text(item["order_by"].get<std::string>());
    date::local_days day;
    text >> date::parse("%F", day);
    if (text.fail()) return;
    const Instant stands{std::chrono::duration_cast<std::chrono::seconds>(day.time_since_epoch())};
    Event event = begun("order:" + item["item"].get<std::string>(), "", stands);
    event.whole_day = day;
    event.alarms.push_back({hours(14), event.summary});  // at ten on the day before
    calendar.events.push_back(std::move(event));
  }

 private:
  const nlohmann::json& forecast_;
  const service::ReminderSettings& settings_;
  const std::string& feed_;
  const std::string& page_;
  Language language_;
  const Sequences& sequences_;
  Instant as_of_;

  Event begun(const std::string& subject, const std::string& mark, Instant at) const {
    Event event;
    event.uid = uid_of(feed_, subject, mark);
    event.sequence = sequences_(event.uid, at);
    event.stamped = as_of_;
    event.summary = event_title(subject, settings_.plain, language_);
    event.description = event_text(as_of_, zone_of(forecast_), language_);
    event.url = page_;
    return event;
  }
};

}  // namespace

calendar::Calendar feed_calendar(const nlohmann::json& forecast, const service::ReminderSettings& settings,
                                 const std::string& feed, const std::string& page, Language language,
                                 const Sequences& sequences) {
  calendar::Calendar calendar = closed_calendar();
  if (in_hospital(forecast)) return calendar;
  const Writer writer(forecast, settings, feed, page, language, sequences);
  if (settings.changes) {
    for (const char* side : {"left", "right"}) writer.change(calendar, side);
  }
  if (settings.orders) {
    for (const auto& item : forecast["stock"]) writer.order(calendar, item);
  }
  return calendar;
}

calendar::Calendar closed_calendar() {
  calendar::Calendar calendar;
  calendar.name = title;
  return calendar;
}

}  // namespace cellarer::reminders
