// SPDX-License-Identifier: MIT
#pragma once
#include <functional>

#include "server/calendar/calendar.hpp"
#include "server/reminders/due.hpp"
#include "server/reminders/event_words.hpp"

/// A household's reminders as a calendar: each side's `change by`, and the days by which to order.
///
/// A calendar program may look only every 8 to 24 hours. So the alarms stand a day ahead and in the last hours, and an
/// event that has been recorded goes when the program next looks. In hospital there are none (due.hpp); back home they
/// come again under the names that they had.
namespace cellarer::reminders {

/// How often the event of that uid has moved, with it now standing at this time (SEQUENCE).
using Sequences = std::function<int(const std::string& uid, Instant at)>;

/// `feed` names the address, so that no two feeds share a uid, and none tells of the household; `page` is the
/// household's page; `language` that of the events' words.
calendar::Calendar feed_calendar(const nlohmann::json& forecast, const service::ReminderSettings& settings,
                                 const std::string& feed, const std::string& page, Language language,
                                 const Sequences& sequences);

/// Of a household that its agency has closed: without events, so that those of before go when a program next looks.
calendar::Calendar closed_calendar();

}  // namespace cellarer::reminders
