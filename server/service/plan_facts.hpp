// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/facts.hpp"

/// The facts about plans, read from JSON as those of facts.hpp are.
namespace cellarer::service {

PacedMore read_paced_more(const json::Field& body);
Visit read_visit(const json::Field& body);
/// An admission: `from` and a note.
Hospital read_hospital(const json::Field& body);

/// What a side came home with.
enum class FoundCells { as_before, fresh, unknown };

struct FoundInSide {
  FoundCells are = FoundCells::unknown;
  life::CellSet cells;  ///< of fresh ones
  Instant changed_at;   ///< when fresh ones went in
  bool from_stock = false;
};

enum class UnitUsed { yes, no, unknown };

/// Coming home from hospital. What was not answered is not known.
struct BackHome {
  Instant at;
  std::array<FoundInSide, 2> cells;  ///< left, right
  life::SinceHospital settings = life::SinceHospital::unknown, unit = life::SinceHospital::unknown;
  UnitUsed unit_used = UnitUsed::unknown;
};

BackHome read_back_home(const json::Field& body);

/// One or two sides, each once; there is no default.
std::vector<Side> read_sides(const json::Field& sides);
life::SinceHospital read_since_hospital(const json::Field& answer);

}  // namespace cellarer::service
