// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>

#include "model/rounds/records.hpp"

/// An invented agency of any size: households, areas, rounds, stock. Drawn from a seed; no real place or person in it.
///
/// Every area has its rounds on fixed weekdays. A household uses a pack of cells in 8 to 20 days, of tape in 15 to 40,
/// of dressings in 20 to 60, keeps two to four packs, and is above its service level until three days before it is
/// calculated to run out. Every window holds a round of the area, so that stop limits and stock alone decide.
namespace cellarer::bench {

struct AgencySize {
  std::uint64_t seed = 1;
  int households = 5000, areas = 20, rounds_a_week = 40, weeks = 8;
};

rounds::PlanInput invented_agency(const AgencySize& size);

/// Limits on stops so that the rounds of an area together take `room` times `visits` (by area, in the order of the
/// names).
void limit_stops(rounds::PlanInput& input, const std::vector<long>& visits, double room);

/// Stock that covers the given share of all packs needed, in lots, a part of it on order.
void add_stock(rounds::PlanInput& input, double share, std::uint64_t seed);

/// The plan's stops are confirmed; then this share of the households turns out to need what it needs sooner.
void confirm_and_disturb(rounds::PlanInput& input, const std::vector<rounds::ConfirmedStop>& stops, double share,
                         std::uint64_t seed);

int area_number(const std::string& area);

}  // namespace cellarer::bench
