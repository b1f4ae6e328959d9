// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>

/// The kinds of entries that the planner's desk writes and reads. What concerns one household is an entry of that
/// household, whoever records it, so that nothing of it is left when the household is erased; an agency's entry names
/// none.
namespace cellarer::service::desk {

// Of a household.
inline constexpr const char* message = "message";            ///< the home: running short, unit trouble
inline constexpr const char* message_seen = "message_seen";  ///< the agency has seen it
inline constexpr const char* ask = "ask";                    ///< somebody was asked to count
inline constexpr const char* stop_place = "stop_place";      ///< area, stop, how much the home keeps
inline constexpr const char* closed = "closed";              ///< no more stops and reminders from then on
inline constexpr const char* reopened = "reopened";
inline constexpr const char* planned_delivery = "planned_delivery";      ///< on a round, with lots; again: as it is now
inline constexpr const char* delivery_withdrawn = "delivery_withdrawn";  ///< not on that round after all
inline constexpr const char* delivery_answer = "delivery_answer";        ///< it came, or did not
inline constexpr const char* delivery_settled = "delivery_settled";      ///< where the packs are that did not come
inline constexpr const char* stop_decision = "stop_decision";            ///< a planner's: this stop is made, or is not

// Of an agency.
inline constexpr const char* round_calendar = "round_calendar";
inline constexpr const char* agency_stock = "agency_stock";  ///< subject: the item
inline constexpr const char* round = "round";                ///< subject: the round's name

/// Whether entries of a household of that kind say nothing of its cells and stock.
constexpr bool is_of_the_desk(std::string_view kind) {
  for (const char* one : {message, message_seen, ask, stop_place, closed, reopened, planned_delivery,
                          delivery_withdrawn, delivery_answer, delivery_settled, stop_decision}) {
    if (kind == one) return true;
  }
  return false;
}

/// Whether it is the planner who records, and takes back, entries of that kind.
constexpr bool is_the_planners(std::string_view kind) {
  return is_of_the_desk(kind) && kind != message && kind != delivery_answer;
}

}  // namespace cellarer::service::desk
