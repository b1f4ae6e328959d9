// SPDX-License-Identifier: MIT
#include "server/calendar/calendar.hpp"

#include <libical/ical.h>

#include <memory>
#include <stdexcept>

namespace cellarer::calendar {

namespace {

constexpr const char* product = "-//Cellarer//reminders//EN";

struct FreeComponent {
  void operator()(icalcomponent* component) const { icalcomponent_free(component); }
};
using Component = std::unique_ptr<icalcomponent, FreeComponent>;

struct FreeText {
  void operator()(char* text) const { icalmemory_free_buffer(text); }
};

Component component(icalcomponent_kind kind) { return Component(icalcomponent_new(kind)); }

/// The parent owns what is added to it.
void add(const Component& to, icalproperty* property) { icalcomponent_add_property(to.get(), property); }
void add(const Component& to, Component part) { icalcomponent_add_component(to.get(), part.release()); }

icaltimetype utc(Instant at) {
  const auto day = date::floor<date::days>(at);
  const date::year_month_day ymd(day);
  const date::hh_mm_ss<std::chrono::seconds> clock(at - day);
  icaltimetype time = icaltime_null_time();
  time.year = static_cast<int>(ymd.year());
  time.month = static_cast<int>(static_cast<unsigned>(ymd.month()));
  time.day = static_cast<int>(static_cast<unsigned>(ymd.day()));
  time.hour = static_cast<int>(clock.hours().count());
  time.minute = static_cast<int>(clock.minutes().count());
  time.second = static_cast<int>(clock.seconds().count());
  time.zone = icaltimezone_get_utc_timezone();
  return time;
}

icaltimetype day_of(date::local_days day) {
  const date::year_month_day ymd(day);
  icaltimetype time = icaltime_null_date();
  time.year = static_cast<int>(ymd.year());
  time.month = static_cast<int>(static_cast<unsigned>(ymd.month()));
  time.day = static_cast<int>(static_cast<unsigned>(ymd.day()));
  return time;
}

icaldurationtype duration(std::chrono::minutes time) {
  return icaldurationtype_from_int(static_cast<int>(std::chrono::seconds(time).count()));
}

Component alarm_component(const Alarm& alarm) {
  auto part = component(ICAL_VALARM_COMPONENT);
  add(part, icalproperty_new_action(ICAL_ACTION_DISPLAY));
  icaltriggertype trigger{};
  trigger.time = icaltime_null_time();
  trigger.duration = duration(-alarm.before);
  add(part, icalproperty_new_trigger(trigger));
  add(part, icalproperty_new_description(alarm.words.c_str()));
  return part;
}

void add_time(const Component& part, const Event& event) {
  if (event.starts.has_value() == event.whole_day.has_value()) {
    throw std::invalid_argument("an event of a calendar has a moment or a day: " + event.uid);
  }
  if (event.whole_day) {
    auto* starts = icalproperty_new_dtstart(day_of(*event.whole_day));
    icalproperty_set_parameter(starts, icalparameter_new_value(ICAL_VALUE_DATE));
    add(part, starts);
    return;
  }
  add(part, icalproperty_new_dtstart(utc(*event.starts)));
  if (event.ends) add(part, icalproperty_new_dtend(utc(*event.ends)));
}

Component event_component(const Event& event) {
  auto part = component(ICAL_VEVENT_COMPONENT);
  add(part, icalproperty_new_uid(event.uid.c_str()));
  add(part, icalproperty_new_dtstamp(utc(event.stamped)));
  add_time(part, event);
  add(part, icalproperty_new_sequence(event.sequence));
  add(part, icalproperty_new_summary(event.summary.c_str()));
  if (!event.description.empty()) add(part, icalproperty_new_description(event.description.c_str()));
  if (!event.url.empty()) add(part, icalproperty_new_url(event.url.c_str()));
  add(part, icalproperty_new_status(event.cancelled ? ICAL_STATUS_CANCELLED : ICAL_STATUS_CONFIRMED));
  add(part, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));  // it takes nobody's time
  for (const Alarm& alarm : event.alarms) add(part, alarm_component(alarm));
  return part;
}

/// What readers from before RFC 7986 know of a feed's name and how often to look.
icalproperty* older(const char* name, const std::string& value) {
  auto* property = icalproperty_new_x(value.c_str());
  icalproperty_set_x_name(property, name);
  return property;
}

}  // namespace

std::string written(const Calendar& calendar) {
  auto whole = component(ICAL_VCALENDAR_COMPONENT);
  add(whole, icalproperty_new_version("2.0"));
  add(whole, icalproperty_new_prodid(product));
  add(whole, icalproperty_new_method(ICAL_METHOD_PUBLISH));
  add(whole, icalproperty_new_name(calendar.name.c_str()));
  add(whole, older("X-WR-CALNAME", calendar.name));
  auto* refresh = icalproperty_new_refreshinterval(duration(calendar.refresh));
  icalproperty_set_parameter(refresh, icalparameter_new_value(ICAL_VALUE_DURATION));
  add(whole, refresh);
  const std::unique_ptr<char, FreeText> interval(icaldurationtype_as_ical_string_r(duration(calendar.refresh)));
  add(whole, older("X-PUBLISHED-TTL", interval.get()));
  for (const Event& event : calendar.events) add(whole, event_component(event));
  const std::unique_ptr<char, FreeText> text(icalcomponent_as_ical_string_r(whole.get()));
  return text.get();
}

}  // namespace cellarer::calendar
