// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "server/json/field.hpp"
#include "server/store/store.hpp"

/// Profiles that an agency's technicians proposed and approved: entries of its journal, which name no household. A
/// proposal is in force from the moment at which a second person approved it, never its proposer; what it replaces
/// stays readable, so that an old forecast can be made again with what was known then.
namespace cellarer::service {

namespace agency_kind {
inline constexpr const char* profile_proposal = "profile_proposal";  ///< subject: "cell/lr6-x", "unit/u-7", ...
inline constexpr const char* profile_decision = "profile_decision";  ///< subject: number of the proposal
}  // namespace agency_kind

struct Proposal {
  enum class Kind { cell, unit, stimulator, steps };
  enum class State { waiting, approved, refused };
  std::int64_t number = 0;
  Kind kind = Kind::cell;
  std::string subject;  ///< id of the cell or stimulator, serial of the unit
  nlohmann::json body;  ///< as it was sent, with `document`: the profile's file that was made of it
  Instant proposed_at;
  std::string account, who;  ///< of the proposer: account, and its label
  State state = State::waiting;
  std::optional<int> version;  ///< 1, 2, ... of its kind and subject, once approved
  std::optional<Instant> decided_at;
  std::string decided_by, decider, reason;  ///< account and label; reason may be empty
};

inline constexpr const char* proposal_kinds[] = {"cell", "unit", "stimulator", "steps"};
inline constexpr const char* proposal_states[] = {"waiting", "approved", "refused"};

struct Decision {
  bool approve = false;
  std::optional<std::string> reason;
};
/// {"approve", "reason"?}
Decision read_decision(const json::Field& body);

/// In the order of recording.
std::vector<Proposal> read_proposals(const std::vector<store::StoredAgencyEntry>& entries);
/// Number of the newest entry that they are made of, 0 for none.
std::int64_t newest_of_profiles(const std::vector<store::StoredAgencyEntry>& entries);

}  // namespace cellarer::service
