// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "server/reminders/due.hpp"

/// What messages to phones say, in one place; events of a calendar in event_words.hpp. They stand on lock screens:
/// neutral until the household asks for more. They are not alarms and may not arrive (DEVELOPERS.md, 9.8), and never
/// say that a side works.
namespace cellarer::reminders {

inline constexpr const char* title = "Cellarer";

/// Of a message to a phone. `second`: to the second caregiver, because nobody has recorded it.
std::string message_text(const Due& due, bool plain, bool second, Zone zone);
/// Of a message that takes another away.
inline constexpr const char* recorded_text = "Recorded meanwhile.";
/// Of one that takes another away because the household is closed, whatever the reason.
inline constexpr const char* ended_text = "Reminders have ended.";
inline constexpr const char* trial_text = "This is a trial. Reminders are not alarms and may not arrive.";

}  // namespace cellarer::reminders
