// SPDX-License-Identifier: MIT
#include "server/service/agency_profiles.hpp"

#include <algorithm>

#include <spdlog/spdlog.h>

#include "server/profiles/stimulator_file.hpp"

namespace cellarer::service {

namespace {

std::optional<ProfileVersion> version_of(const Proposal& proposal, const Libraries& libraries) {
  if (proposal.state != Proposal::State::approved) return std::nullopt;
  ProfileVersion version;
  version.kind = proposal.kind;
  version.subject = proposal.subject;
  version.number = proposal.number;
  version.approved_at = *proposal.decided_at;
  const auto& document = proposal.body.at("document");
  switch (proposal.kind) {
    case Proposal::Kind::cell:
      version.cell = libraries.fit(document, "");
      break;
    case Proposal::Kind::unit:
    case Proposal::Kind::stimulator:
      version.stimulator = read_stimulator(cellarer::json::Field(document, ""));
      break;
    case Proposal::Kind::steps:
      version.steps = ApprovedSteps{document.at("steps").get<std::vector<std::string>>(), document.value("source", ""),
                                    document.value("date", ""), version.approved_at};
  }
  return version;
}

AgencyProfiles profiles_of(const std::vector<store::StoredAgencyEntry>& entries, const Libraries& libraries) {
  AgencyProfiles profiles;
  profiles.newest = newest_of_profiles(entries);
  profiles.proposals = read_proposals(entries);
  for (const auto& proposal : profiles.proposals) {
    try {
      if (auto version = version_of(proposal, libraries)) profiles.versions.push_back(std::move(*version));
    } catch (const std::exception& error) {  // it was read when it was proposed: a reader has become stricter since
      spdlog::error("profile proposal {}: {}", proposal.number, error.what());
    }
  }
  std::stable_sort(profiles.versions.begin(), profiles.versions.end(),
                   [](const auto& a, const auto& b) { return a.approved_at < b.approved_at; });
  return profiles;
}

}  // namespace

const ProfileVersion* AgencyProfiles::in_force(Proposal::Kind kind, const std::string& subject, Instant at) const {
  const ProfileVersion* found = nullptr;
  for (const auto& version : versions) {
    if (version.kind == kind && version.subject == subject && version.approved_at <= at) found = &version;
  }
  return found;
}

std::optional<cell::Profile> AgencyLibraries::cell(const std::string& id) const {
  if (const auto* approved = version(Proposal::Kind::cell, id)) return approved->cell;
  return base_.cell(id);
}

std::optional<duty::Stimulator> AgencyLibraries::stimulator(const std::string& id) const {
  if (const auto* approved = version(Proposal::Kind::stimulator, id)) return approved->stimulator;
  return base_.stimulator(id);
}

std::optional<duty::Stimulator> AgencyLibraries::unit(const std::string& serial, const std::string& id) const {
  if (const auto* measured = version(Proposal::Kind::unit, serial)) return measured->stimulator;
  return stimulator(id);
}

std::vector<std::string> AgencyLibraries::with_approved(std::vector<std::string> ids, Proposal::Kind kind) const {
  for (const auto& one : profiles_->versions) {
    const bool there = std::find(ids.begin(), ids.end(), one.subject) != ids.end();
    if (one.kind == kind && one.approved_at <= as_of_ && !there) ids.push_back(one.subject);
  }
  return ids;
}

std::vector<std::string> AgencyLibraries::cell_ids() const {
  return with_approved(base_.cell_ids(), Proposal::Kind::cell);
}

std::vector<std::string> AgencyLibraries::stimulator_ids() const {
  return with_approved(base_.stimulator_ids(), Proposal::Kind::stimulator);
}

std::optional<nlohmann::json> AgencyLibraries::stimulator_document(const std::string& id) const {
  auto document = base_.stimulator_document(id);
  if (const auto* approved = version(Proposal::Kind::stimulator, id)) {
    for (const auto& proposal : profiles_->proposals) {
      if (proposal.number == approved->number) document = proposal.body.at("document");
    }
  }
  if (!document) return document;
  if (const auto* approved = version(Proposal::Kind::steps, id)) {
    (*document)["handling"] = {
        {"shown", approved->steps->steps}, {"source", approved->steps->source}, {"date", approved->steps->date}};
  }
  return document;
}

Profiles ProfileBook::of(const std::string& agency) {
  const auto entries = journal_.of(agency);
  {
    const std::lock_guard lock(mutex_);
    const auto& kept = kept_[agency];
    if (kept.seen == entries) return kept.profiles;
  }
  const auto newest = newest_of_profiles(*entries);
  {
    const std::lock_guard lock(mutex_);
    auto& kept = kept_[agency];
    if (kept.profiles && kept.profiles->newest >= newest) {
      kept.seen = entries;
      return kept.profiles;
    }
  }
  auto made = std::make_shared<const AgencyProfiles>(profiles_of(*entries, libraries_));
  const std::lock_guard lock(mutex_);
  auto& kept = kept_[agency];
  if (!kept.profiles || kept.profiles->newest < made->newest) kept = {entries, made};
  return kept.profiles;
}

std::shared_ptr<const Libraries> ProfileBook::libraries_of(const std::string& agency) {
  return std::make_shared<const AgencyLibraries>(libraries_, of(agency));
}

}  // namespace cellarer::service
