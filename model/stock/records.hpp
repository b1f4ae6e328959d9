// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"

/// What a household keeps and what happened to it.
namespace cellarer::stock {

/// One lot of one item at one place. Quantities are single pieces, never packs.
struct Line {
  std::string item;                 ///< "cells", "antennas", "dressings", "tape", ...
  std::optional<std::string> lot;
  int quantity = 0;                 ///< may fall below nought by the books: "please count"
  std::optional<std::chrono::year_month> expires;  ///< usable to the end of that month
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
