// SPDX-License-Identifier: MIT
#include "server/service/profile_journal.hpp"

#include <algorithm>
#include <map>

namespace cellarer::service {

using store::StoredAgencyEntry;

namespace {

bool is_of_profiles(const std::string& kind) {
  return kind == agency_kind::profile_proposal || kind == agency_kind::profile_decision;
}

Proposal proposal_of(const StoredAgencyEntry& entry) {
  Proposal proposal;
  proposal.number = entry.number;
  proposal.body = json::parse(entry.body);
  const auto slash = entry.subject.find('/');
  const auto kind = entry.subject.substr(0, slash);
  for (std::size_t i = 0; i < std::size(proposal_kinds); ++i) {
    if (kind == proposal_kinds[i]) proposal.kind = static_cast<Proposal::Kind>(i);
  }
  proposal.subject = entry.subject.substr(slash + 1);
  proposal.proposed_at = entry.recorded_at;
  proposal.account = entry.account;
  proposal.who = proposal.body.value("who", "");
  return proposal;
}

}  // namespace

Decision read_decision(const json::Field& body) {
  Decision decision;
  decision.approve = body["approve"].boolean();
  if (const auto reason = body.find("reason")) decision.reason = reason->text(200);
  return decision;
}

std::vector<Proposal> read_proposals(const std::vector<StoredAgencyEntry>& entries) {
  std::vector<Proposal> all;
  std::map<std::pair<Proposal::Kind, std::string>, int> versions;
  for (const auto& entry : entries) {
    if (entry.kind == agency_kind::profile_proposal) all.push_back(proposal_of(entry));
    if (entry.kind != agency_kind::profile_decision) continue;
    const auto found = std::find_if(all.begin(), all.end(), [&](const Proposal& one) {
      return std::to_string(one.number) == entry.subject && one.state == Proposal::State::waiting;
    });
    if (found == all.end()) continue;
    const auto body = json::parse(entry.body);
    const bool approved = body.value("approve", false);
    found->state = approved ? Proposal::State::approved : Proposal::State::refused;
    found->decided_at = entry.recorded_at;
    found->decided_by = entry.account;
    found->decider = body.value("who", "");
    found->reason = body.value("reason", "");
    if (approved) found->version = ++versions[{found->kind, found->subject}];
  }
  return all;
}

std::int64_t newest_of_profiles(const std::vector<StoredAgencyEntry>& entries) {
  for (auto entry = entries.rbegin(); entry != entries.rend(); ++entry) {
    if (is_of_profiles(entry->kind)) return entry->number;
  }
  return 0;
}

}  // namespace cellarer::service
