// SPDX-License-Identifier: MIT
#include "server/service/exported_profiles.hpp"

#include <set>

#include "server/json/texts.hpp"

namespace cellarer::service {

namespace {

const nlohmann::json& document_of(const AgencyProfiles& profiles, const ProfileVersion& version) {
  for (const auto& proposal : profiles.proposals)
    if (proposal.number == version.number) return proposal.body.at("document");
  throw std::logic_error("a version without its proposal");
}

/// What was in force at that time of what the household names.
nlohmann::json block_at(const HouseholdRecord& record, const AgencyProfiles& profiles, Instant at) {
  std::set<std::string> cells{family_profile_id}, models, serials;
  for (const auto& change : record.life.cell_changes)
    if (change.cells.profile) cells.insert(*change.cells.profile);
  for (const auto& unit : record.units) models.insert(unit.stimulator), serials.insert(unit.serial);
  nlohmann::json block = nlohmann::json::object();
  const auto add = [&](const char* name, Proposal::Kind kind, const std::set<std::string>& subjects) {
    for (const auto& subject : subjects) {
      const auto* version = profiles.in_force(kind, subject, at);
      if (version == nullptr) continue;
      const auto& document = document_of(profiles, *version);
      const bool one_unit = kind == Proposal::Kind::unit;
      block[name].push_back(one_unit ? nlohmann::json{{"serial", subject}, {"stimulator", document}} : document);
    }
  };
  add("cells", Proposal::Kind::cell, cells);
  add("stimulators", Proposal::Kind::stimulator, models);
  add("units", Proposal::Kind::unit, serials);
  return block;
}

}  // namespace

nlohmann::json exported_profiles(const HouseholdRecord& record, const AgencyProfiles& profiles) {
  auto document = block_at(record, profiles, Instant::max());
  for (const auto& before : record.before_approval) {
    auto block = block_at(record, profiles, before.approved - std::chrono::seconds(1));
    block["until"] = json::rfc3339(before.approved, nullptr);
    document["before"].push_back(std::move(block));
  }
  return document.empty() ? nlohmann::json() : document;
}

}  // namespace cellarer::service
