// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>

#include "server/service/facts.hpp"
#include "server/service/libraries.hpp"

/// The same household with other settings or another cell, as somebody typed them in: for looking, never stored, never
/// proposed and never ranked (DEVELOPERS.md, 9.7).
namespace cellarer::service {

struct TypedIn {
  std::vector<duty::Settings> settings;             ///< at most one a side; they count from the moment asked for
  std::array<std::optional<std::string>, 2> cells;  ///< left, right: as if fresh ones of that profile went in now
};

/// Refuses a body without any of them, two settings for one side, and profiles that are not known.
TypedIn read_typed_in(const json::Field& body, const Libraries& libraries, Instant as_of);

/// A copy of the record in which this counts.
HouseholdRecord with_typed_in(const HouseholdRecord& record, const TypedIn& typed, const Libraries& libraries,
                              Instant as_of);

}  // namespace cellarer::service
