// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"

/// What a household keeps and what happened to it.
///
/// Room `stock`: from what is kept, and the days on which cells will be changed, to the day on which something
/// runs out, what to order until when, and what to pack. Beneath it stands `model/quantities` alone.
///   records, ledger      what is there
///   pmf, renewal         probability by day and by count
///   change_days, other_items   what will be used, as a distribution
///   coming_changes       which days of change people will see coming
///   reorder, stay        what to order, what to pack
namespace cellarer::stock {

/// The item that the sides use; every other item is a name of the household's own.
inline constexpr const char* cells_item = "cells";

/// One lot of one item at one place. Quantities are single pieces, never packs.
struct Line {
  std::string item;  ///< "cells", "antennas", "dressings", "tape", ...
  std::optional<std::string> lot;
  int quantity = 0;                                ///< pieces, 0 or more
  std::optional<std::chrono::year_month> expires;  ///< usable to the end of that month; none: does not expire
  std::string place = "home";
};

enum class Happened { counted, received, used, discarded };

/// One entry of the ledger. `counted` sets the line of that item, lot and place; `received` adds to it;
/// `used` and `discarded` take from it. `used` without a lot takes what expires first at that place, then elsewhere.
struct Event {
  Instant at;
  Happened what = Happened::counted;
  Line line;
};

}  // namespace cellarer::stock
