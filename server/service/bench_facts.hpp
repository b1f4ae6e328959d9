// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/duty/settings.hpp"
#include "server/json/field.hpp"

/// What the technician's bench records of one household: looks at one cause alone, parts that wear, and what became of
/// a finding. All are entries of the household: erasing it removes them.
namespace cellarer::service {

/// What was seen of one side: its settings as read off the unit, or the hours that it was paced.
struct CheckFact {
  Instant at;
  Side side = Side::left;
  std::optional<duty::Settings> settings;  ///< either these
  std::optional<double> hours_per_day;     ///< or these, 0 to 24
  std::int64_t entry = 0;
};

/// A part that wears was put into use; what was in use before came out because of `why`.
struct PartFact {
  enum class Why { first, worn_out, other };
  std::string part;  ///< "antenna", ...
  std::optional<Side> side;
  Instant at;
  Why why = Why::first;
  std::int64_t entry = 0;
};

/// What somebody did about a finding (review/finding.hpp). A finding that was never touched is open.
enum class FindingState { open, seen, taken_on, closed };
inline constexpr const char* finding_states[] = {"open", "seen", "taken_on", "closed"};
inline constexpr const char* closing_reasons[] = {"cause_removed", "explained", "nothing_found", "cannot_tell"};

struct FindingNote {
  std::string finding;  ///< its id
  FindingState state = FindingState::seen;
  std::string reason, note;  ///< empty: none
  Instant at;
  std::string who;           ///< label, or account; may be empty
  nlohmann::json as_it_was;  ///< the finding's document at that time
  std::int64_t number = 0;   ///< of the entry
};

struct BenchRecord {
  std::vector<CheckFact> checks;
  std::vector<PartFact> parts;
  std::vector<FindingNote> notes;
};

CheckFact read_check(const json::Field& body);
PartFact read_part(const json::Field& body);
/// As it is stored: as_it_was included where there is one.
FindingNote read_finding_note(const json::Field& body);

}  // namespace cellarer::service
