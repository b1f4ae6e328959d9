// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/rounds/plan.hpp"

/// What is loaded for a round, and what each stop of it gets: data, from which a page or a print is made.
namespace cellarer::rounds {

/// One line of the picking list.
struct PickLine {
  std::string item, lot;
  int packs = 0;
  std::optional<std::chrono::year_month> expires;
};

struct SheetLine {
  std::string household, item;
  std::vector<LotPart> parts;  ///< lots and packs; one part without a lot where stock was not given
  int packs = 0;
  bool late = false;
};

struct SheetStop {
  std::string address;
  bool confirmed = false;
  std::vector<SheetLine> lines;  ///< by household, item
};

struct RoundSheet {
  std::string round, area;
  Date date;
  int stops_at_most = 0;
  std::vector<PickLine> picking;  ///< by item, then what expires first
  std::vector<SheetStop> stops;   ///< by address: the driver chooses the way
};

/// One sheet a round that has stops, by date. The packs of all its stops add up to its picking list.
std::vector<RoundSheet> sheets_of(const PlanInput& input, const Plan& plan);

}  // namespace cellarer::rounds
