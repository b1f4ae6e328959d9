// SPDX-License-Identifier: MIT
#pragma once
#include <compare>
#include <memory>
#include <string>
#include <vector>

#include "model/rounds/plan.hpp"
#include "server/service/coming_rounds.hpp"
#include "server/service/desk_record.hpp"
#include "server/service/household_needs.hpp"

/// One household on the planner's list: who needs what by when.
namespace cellarer::service {

/// What all rows of an agency are written with.
struct BoardFrame {
  AgencyRecord agency;
  ComingRounds coming;
  Instant now;
};

/// A row before it is written. Of what is not computed yet nothing is said.
struct RowInput {
  std::string household;  ///< its reference
  DeskRecord desk;
  std::shared_ptr<const Outlook> outlook;  ///< none: not computed yet
  std::vector<rounds::Left> left;          ///< what the newest plan cannot bring in time
  bool failed = false;                     ///< its forecast cannot be made
};

/// The order of the list: what must be seen first. Members count from above; false comes first.
struct Urgency {
  bool closed = false;
  bool answered = true;  ///< no delivery without an answer, none that did not come and is not made good
  bool seen = true;      ///< no message that nobody has seen
  bool reaches = true;   ///< the next round, with what is in the house
  bool served = true;    ///< by the newest plan
  bool planned = true;   ///< by rounds at all: its area is known, and how long its cells last
  int deliver_by_day = 0;
  std::string household;
  // NOLINTNEXTLINE(modernize-use-nullptr): a false alarm of version 14
  auto operator<=>(const Urgency&) const = default;
};

struct BoardRow {
  std::string json;  ///< finished
  Urgency urgency;
};

BoardRow board_row(const RowInput& input, const BoardFrame& frame);

/// The needs that are left beside what is under way, pack by pack: what comes after a need's date does not meet it.
std::vector<rounds::Need> needs_beside(const ItemOutlook& item, std::vector<UnderWay> coming);

/// The first round on which the household can be a stop, or is one; null: none in the calendar.
const rounds::Round* next_round(const DeskRecord& desk, const BoardFrame& frame);

/// The wire's name of a reason.
const char* name_of(rounds::Why why);
const char* name_of(life::Phrase phrase);

}  // namespace cellarer::service
