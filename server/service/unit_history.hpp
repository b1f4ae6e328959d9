// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include "server/service/reviewed_agency.hpp"

/// Where units were, and what befell them: put together from the homes' records and from what the workshop noted.
namespace cellarer::service {

struct UnitPlace {
  enum class Kind { home, spare, workshop, withdrawn, unknown };
  Kind kind = Kind::unknown;
  std::string household;  ///< of home and spare: bare reference
  Instant from;
  std::optional<Instant> to;  ///< when it was next seen elsewhere; none: it is there
  std::int64_t event = 0;     ///< of the workshop: its number, by which it is taken back
};

struct UnitTrouble {
  Instant at;
  std::string household;  ///< empty: noted in the workshop
  std::optional<Side> side;
  std::string text;
  std::int64_t event = 0;  ///< as of a place
};

struct UnitHistory {
  std::string serial, stimulator;
  std::vector<UnitPlace> places;      ///< by time
  std::vector<UnitTrouble> troubles;  ///< by time
  int sets = 0;                       ///< that came out of it, in all its homes

  std::set<std::string> homes() const;  ///< that it was in, as a spare too
  UnitPlace place() const { return places.empty() ? UnitPlace{} : places.back(); }
};

/// By serial number. A unit is where it was last recorded: a record of another home, or of the workshop, ends its stay.
std::map<std::string, UnitHistory> unit_histories(const ReviewedAgency& agency);

}  // namespace cellarer::service
