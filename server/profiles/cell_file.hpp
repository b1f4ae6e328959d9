// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>

#include "model/cell/published.hpp"
#include "server/json/field.hpp"

/// The cell file of `data/cells/*.json` (form: data/schema/cell.schema.json).
///
/// Each discharge has exactly one load (`current_mA`, `resistance_ohm`, `power_mW`), exactly one of `hours` and
/// `capacity_mAh`, and a cut-off below the fresh voltage; no regimen means continuous, no temperature 21
/// degrees Celsius. Unknown fields are passed over, so that a file may say more. Rechargeable cells may have no
/// discharges at all: they are a record only.
namespace cellarer {

/// Throws `json::Refused` with the place and what would be right.
cell::PublishedCell read_cell_file(std::string_view text);

/// The same from a document that holds the cell, such as an export.
cell::PublishedCell read_cell(const json::Field& document);

}  // namespace cellarer
