// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "server/json/field.hpp"
#include "server/store/store.hpp"

/// What an agency enters for "Something is wrong now": the number to call, and its own words in the place of the pages'
/// built-in ones. The number holds at once. The words are shown only once somebody answers for them, by role and day:
/// until then the built-in ones stand.
namespace cellarer::service {

/// The kind of these entries in the agency's journal.
inline constexpr const char* help_kind = "help";

struct AgencyHelp {
  struct Step {
    std::string words;
    std::optional<std::string> more;
  };
  std::optional<std::string> number, label;  ///< to call; whose it is, and when they answer
  std::vector<Step> steps;                   ///< in their order
  std::optional<std::string> approved_by;    ///< a role, never a name
  std::optional<std::string> approved_on;    ///< "2026-11-20"
  std::int64_t entry = 0;                    ///< in which it stands; 0: nobody has entered anything
  Instant recorded_at = {};

  bool is_approved() const { return !steps.empty() && approved_by && approved_on; }
};

/// {"number", "label", "steps": [{"words", "more"}], "approved_by", "approved_on"}, none of them required. What is
/// approved has both a role and a day.
AgencyHelp read_help(const json::Field& body);

/// The newest of an agency's journal.
AgencyHelp help_of(const std::vector<store::StoredAgencyEntry>& entries);

}  // namespace cellarer::service
