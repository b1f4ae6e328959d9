// SPDX-License-Identifier: MIT
// A household as it was known at a past moment, so that an old forecast can be made again.
#include <algorithm>

#include "server/household_key.hpp"
#include "server/service/agency_document.hpp"
#include "server/service/held_back.hpp"
#include "server/service/household_service.hpp"

namespace cellarer::service {

namespace {

/// What had been recorded by then; an entry that was taken back later stands again.
std::vector<store::StoredEntry> recorded_by(const std::vector<store::StoredEntry>& entries, Instant at) {
  std::vector<store::StoredEntry> known;
  for (const auto& entry : entries) {
    if (entry.recorded_at <= at) known.push_back(entry);
  }
  for (auto& entry : known) {
    const bool later = entry.voided_by && std::none_of(known.begin(), known.end(),
                                                       [&](const auto& one) { return one.number == *entry.voided_by; });
    if (later) entry.voided_by.reset();
  }
  return known;
}

/// What had been approved by then.
Profiles approved_by(const Profiles& profiles, Instant at) {
  auto then = std::make_shared<AgencyProfiles>(*profiles);
  std::erase_if(then->versions, [&](const ProfileVersion& version) { return version.approved_at > at; });
  return then;
}

/// What the agency had said of lots by then.
LotFacts lots_by(const std::vector<store::StoredAgencyEntry>& entries, Instant at) {
  std::vector<store::StoredAgencyEntry> known;
  for (const auto& entry : entries)
    if (entry.recorded_at <= at) known.push_back(entry);
  return lot_facts(known);
}

}  // namespace

HouseholdRecord HouseholdService::record_at(const std::string& household, Instant at) {
  const auto stored = store_.household(household);
  if (!stored) throw unknown_household(reference_of(household));
  const auto agency = agency_of(household);
  const auto entries = recorded_by(store_.entries(household), at);
  const auto profiles = approved_by(profiles_.of(agency), at);
  const auto lots = lots_by(*journal_.of(agency), at);
  auto record = fold(*stored, entries, AgencyLibraries(libraries_, profiles), lots).record;
  record.before_approval = before_approvals(*stored, entries, record, libraries_, profiles);
  life::AgencyKnowledge knowledge;
  if (const auto kept = store_.newest_learned(agency, at)) {
    const auto document = nlohmann::json::parse(*kept);
    knowledge = read_agency(json::Field(document, ""));
  }
  record.life.agency = knowledge;
  for (auto& before : record.before_approval) before.life.agency = knowledge;
  return record;
}

}  // namespace cellarer::service
