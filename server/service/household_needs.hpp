// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/rounds/needs.hpp"
#include "server/service/household_forecast.hpp"
#include "server/service/round_calendar.hpp"

/// From a household's forecast to what the planner's desk shows of it, and to what rounds must bring (rounds::Need).
namespace cellarer::service {

struct SideSays {
  life::Phrase phrase = life::Phrase::no_forecast;
  std::optional<Instant> change_by, warned_at, stopped_at;
  std::optional<life::Window> tonight;  ///< of the night that holds the coming small hours; none: nothing is said of it
};

/// One item of a household: what is in the house, and what must come.
struct ItemOutlook {
  std::string item;
  bool lasts_known = false;  ///< days and dates say something
  stock::DaysLeft days;
  bool please_count = false;
  int pieces_per_pack = 1;
  int usable = 0;                          ///< pieces in the house, recorded as received or counted
  std::optional<rounds::Date> deliver_by;  ///< the last date that keeps the service level; none: beyond the horizon
  int packs = 0;                           ///< that a delivery on that date brings
  std::vector<rounds::Need> needs;         ///< pack by pack
};

/// A household's forecast as the desk needs it.
struct Outlook {
  Instant as_of;
  rounds::Date today;  ///< on the household's wall
  Zone zone = nullptr;
  std::array<SideSays, 2> sides;
  std::vector<ItemOutlook> items;  ///< cells first, then by name
  bool rounds_bring_all = true;    ///< false: something is used of which the forecast knows nothing

  const ItemOutlook* item(const std::string& name) const;
};

/// `storage`: the most pieces that the home keeps, by item; where it is not given, as much as may be used within the
/// calendar's cover, and a pack. Of two dates the earlier holds: that by use (needs_of), and order-by with its lead,
/// which knows of cells that expire.
Outlook outlook_of(const HouseholdRecord& record, const RoundCalendar& calendar,
                   const std::map<std::string, int>& storage, Instant as_of);

}  // namespace cellarer::service
