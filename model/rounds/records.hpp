// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/stock/dates.hpp"

/// What a plan of delivery rounds is made from.
///
/// Room `rounds`: from what every household needs until when, to the round on which it goes.
///   records, needs, calendar, check   what comes in: from use to windows, from weekdays to rounds, what is wrong with
///   it plan                              the plan, its bounds, who is left and why adjust, remedies one stop moved by
///   hand; what would serve who is left picking                           the picking list and the delivery sheets
///   grid, visits, flow, prices, repair, search, share, solve   how the plan is found (DEVELOPERS.md 4.5)
namespace cellarer::rounds {

using stock::Date;

/// From that date on the probability of having fallen under the service level, if the need was not met.
struct RiskStep {
  Date from;
  double probability = 1;  ///< 0 to 1, not falling from step to step
};

/// Packs of one item that must be in the house in time. One visit serves every need whose window holds its date.
struct Need {
  std::string item;
  int packs = 1;                  ///< whole packs, above 0; a need is met whole or not at all
  Date earliest;                  ///< before it there is no room for them in the house
  Date deliver_by;                ///< the last date on which the household is still above its service level
  std::vector<RiskStep> risk;     ///< by date, after deliver_by; none: certain from the day after it
  std::optional<Date> must_last;  ///< they may not expire before; none: the date of delivery
};

/// A wearer's home as the agency knows it. Wearers at one address are households of their own and one stop.
struct Household {
  std::string reference;
  std::string area;
  std::string address;  ///< a key, never an address in words; empty: the reference
  std::vector<Need> needs;
};

/// One delivery run of the calendar.
struct Round {
  std::string id;
  std::string area;
  Date date;
  int stops = 0;      ///< at most so many addresses, above 0
  int lead_days = 0;  ///< a new stop is possible until so many days before the date
};

struct Item {
  std::string name;
  int pieces_per_pack = 1;
  int pieces_per_set = 1;  ///< a set is never of two lots: 2 for cells used in pairs
};

/// A lot in the agency's store.
struct AgencyLot {
  std::string item, lot;
  int packs = 0;
  std::optional<std::chrono::year_month> expires;  ///< usable to the end of that month
  bool recalled = false;                           ///< out at once
  std::optional<Date> arrives;                     ///< on order: can be loaded from that date on
};

/// A stop of a plan that was confirmed before.
struct ConfirmedStop {
  std::string address, round;
};

/// What a planner has decided: this stop is made, or is not, whatever else is better.
struct Pin {
  std::string address, round;
  bool stop = true;  ///< false: never this stop
};

struct PlanInput {
  Date today;
  int horizon_days = 56;  ///< rounds from today to so many days later, both included, and needs due in that time
  std::vector<Household> households;
  std::vector<Round> rounds;
  std::vector<Item> items;                     ///< an item that is not listed is counted in packs of one piece
  std::optional<std::vector<AgencyLot>> lots;  ///< none: stock is not looked at
  std::vector<ConfirmedStop> confirmed;
  std::vector<Pin> pins;
};

/// The key of the stop: the address, or the household itself.
inline const std::string& stop_key(const Household& household) {
  return household.address.empty() ? household.reference : household.address;
}

}  // namespace cellarer::rounds
