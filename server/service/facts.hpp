// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "server/json/field.hpp"
#include "server/service/household_record.hpp"

/// The facts that people record, read from JSON: the same form in the body of a write, in a stored entry
/// and in an export. What cannot be is refused (`json::Refused`) with its place and what would be right;
/// what only should not have happened is a fact like any other.
namespace cellarer::service {

/// Where nothing else is said: cells and items are kept here.
inline constexpr const char* usual_place = "home";

/// A cell change with what it took from the stock.
struct CellChangeFact {
  life::CellChange change;
  std::optional<std::string> place;  ///< from which the cells were taken
  bool from_stock = true;            ///< false: bought on the way, a gift, put back
};

/// What is said once about a household.
struct HouseholdFact {
  std::string reference;
  std::optional<std::string> area, stop;
  std::string zone_name;
  Zone zone = nullptr;
  std::vector<std::chrono::minutes> changing_times;  ///< sorted, each once, at least one
  std::vector<ItemTerms> items;
  std::optional<life::Policy> policy;  ///< none: the agency's defaults
};

Side read_side(const json::Field& side);

ItemTerms read_item_terms(const json::Field& item);
HouseholdFact read_household_fact(const json::Field& body);
UnitRecord read_unit(const json::Field& body);
duty::Settings read_settings(const json::Field& body);
CellChangeFact read_cell_change(const json::Field& body, Instant recorded_at);
life::Reading read_reading(const json::Field& body, Instant recorded_at);
duty::PacedInstead read_paced_instead(const json::Field& body);
duty::SwitchedOff read_switched_off(const json::Field& body);
stock::Event read_stock_event(const json::Field& body, stock::Happened what);
/// One line of an export's stock: as counted, whenever that was.
stock::Line read_stock_line(const json::Field& line, int fewest);
Stay read_stay(const json::Field& body);

RecallCall read_recall_call(const json::Field& body, Instant at, const std::string& who);

/// An end that may be given: none while it lasts.
std::optional<Instant> read_end(const json::Field& body, Instant from);
/// Times of day, sorted, each once, at least one.
std::vector<std::chrono::minutes> read_changing_times(const json::Field& times);
/// A zone of the IANA list, or refused.
Zone read_zone(const json::Field& zone);
/// What the clinician set, without its moment: the fields after `from`.
duty::Settings read_settings_from(const json::Field& body, Instant from);

/// A time within 2000 to 2100: outside it is a slip of the finger, not a fact.
Instant read_time(const json::Field& at);

}  // namespace cellarer::service
