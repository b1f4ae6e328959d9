// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"

/// Calendars that other programs read by an address: RFC 5545, written through libical, with what RFC 7986 adds for
/// feeds (NAME, REFRESH-INTERVAL).
///
/// Moments are written in UTC ("20261129T203000Z"): each is one instant, whatever a zone's rules become, so no
/// VTIMEZONE has to travel and a change of daylight saving moves nothing. A whole day is a date, which has no zone.
///
/// A calendar program keeps an event by its `uid`. What moves keeps its uid and gets a higher `sequence`; what is over
/// is left out, and goes with the next reading. How soon that is the reader decides: `refresh` is a hint, and several
/// large services look again only every 8 to 24 hours. So nothing that matters may rest on an alarm in a feed.
namespace cellarer::calendar {

/// An alarm that the calendar itself sounds, `before` the event begins [minutes, 0 or more].
struct Alarm {
  std::chrono::minutes before;
  std::string words;
};

/// Something at a moment (`starts`, perhaps `ends`), or on a `whole_day`; exactly one of the two.
struct Event {
  std::string uid;   ///< for ever the same, known to nobody else: RFC 7986, 5.3
  int sequence = 0;  ///< higher each time the event's time changes
  Instant stamped;   ///< DTSTAMP: when this version was made
  std::optional<Instant> starts = std::nullopt, ends = std::nullopt;
  std::optional<date::local_days> whole_day = std::nullopt;
  std::string summary, description = "", url = "";  ///< UTF-8; empty: not written
  std::vector<Alarm> alarms = {};
  bool cancelled = false;
};

struct Calendar {
  std::string name;                                     ///< plain words: no comma, semicolon or backslash
  std::chrono::minutes refresh{std::chrono::hours(8)};  ///< how often a reader is asked to look again
  std::vector<Event> events;
};

/// The media type of what is written.
inline constexpr const char* media_type = "text/calendar; charset=utf-8";

/// As text with CRLF and folded lines. The same calendar gives the same bytes. Throws std::invalid_argument for an
/// event that has neither a moment nor a day, or both.
std::string written(const Calendar& calendar);

}  // namespace cellarer::calendar
