// SPDX-License-Identifier: MIT
#include "server/reminders/words.hpp"

namespace cellarer::reminders {

namespace {

std::string clock(Instant at, Zone zone) { return date::format("%H:%M", zone->to_local(at)); }
std::string day(Instant at, Zone zone) { return date::format("%a %d %b", zone->to_local(at)); }
std::string item_of(const std::string& subject) { return subject.substr(subject.find(':') + 1); }

std::string plain_text(const Due& due, Zone zone) {
  if (due.is == Due::Is::order) return "Order " + item_of(due.subject) + " by " + day(due.due, zone) + ".";
  if (due.is == Due::Is::change_now) return "Change the " + due.subject + " cells now.";
  return "Change the " + due.subject + " cells before tonight, " + clock(due.due, zone) + ".";
}

std::string neutral_text(const Due& due) {
  if (due.is == Due::Is::order) return "Something to look at in the next days.";
  return due.is == Due::Is::change_now ? "Something to do now." : "Something to do before tonight.";
}

}  // namespace

std::string message_text(const Due& due, bool plain, bool second, Zone zone) {
  const std::string what = plain ? plain_text(due, zone) : neutral_text(due) + " Open the page.";
  return second ? "Nothing is recorded yet. " + what : what;
}

}  // namespace cellarer::reminders
