// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <memory>
#include <mutex>

#include "server/service/agency_journal.hpp"
#include "server/service/libraries.hpp"
#include "server/service/profile_journal.hpp"

/// The profiles that are in force for an agency: those that come with the program, and over them what its technicians
/// have approved.
namespace cellarer::service {

/// Steps for handling a unit (DEVELOPERS.md, 9.6), as approved.
struct ApprovedSteps {
  std::vector<std::string> steps;
  std::string source, date;
  Instant approved_at;
};

/// One approved version; of its members the one of its kind is there.
struct ProfileVersion {
  Proposal::Kind kind = Proposal::Kind::cell;
  std::string subject;
  std::int64_t number = 0;  ///< of the proposal
  Instant approved_at;
  std::optional<cell::Profile> cell;
  std::optional<duty::Stimulator> stimulator;
  std::optional<ApprovedSteps> steps;
};

/// What an agency has proposed and approved. Shared and never changed.
struct AgencyProfiles {
  std::int64_t newest = 0;
  std::vector<Proposal> proposals;
  std::vector<ProfileVersion> versions;  ///< by when they were approved

  /// The version in force at that time; null for none.
  const ProfileVersion* in_force(Proposal::Kind kind, const std::string& subject, Instant at) const;
};

using Profiles = std::shared_ptr<const AgencyProfiles>;

/// The program's libraries with an agency's versions over them, as of a moment.
class AgencyLibraries final : public Libraries {
 public:
  AgencyLibraries(const Libraries& base, Profiles profiles, Instant as_of = Instant::max())
      : base_(base), profiles_(std::move(profiles)), as_of_(as_of) {}

  std::optional<cell::Profile> cell(const std::string& id) const override;
  std::vector<std::string> cell_ids() const override;
  std::optional<duty::Stimulator> stimulator(const std::string& id) const override;
  std::optional<duty::Stimulator> unit(const std::string& serial, const std::string& id) const override;
  std::vector<std::string> stimulator_ids() const override;
  std::optional<nlohmann::json> stimulator_document(const std::string& id) const override;
  cell::Profile fit(const nlohmann::json& cell_file, const std::string& place) const override {
    return base_.fit(cell_file, place);
  }

 private:
  const ProfileVersion* version(Proposal::Kind kind, const std::string& subject) const {
    return profiles_->in_force(kind, subject, as_of_);
  }
  std::vector<std::string> with_approved(std::vector<std::string> ids, Proposal::Kind kind) const;

  const Libraries& base_;
  Profiles profiles_;
  Instant as_of_;
};

/// Thread-safe. Fits what was approved when an agency is first asked for; on a worker.
class ProfileBook {
 public:
  ProfileBook(AgencyJournal& journal, const Libraries& libraries) : journal_(journal), libraries_(libraries) {}

  /// Never null.
  Profiles of(const std::string& agency);
  /// What the agency's forecasts are made with.
  std::shared_ptr<const Libraries> libraries_of(const std::string& agency);

 private:
  AgencyJournal& journal_;
  const Libraries& libraries_;
  std::mutex mutex_;
  struct Kept {
    AgencyJournal::Entries seen;  ///< the journal that it was read from, or has seen grow without profiles
    Profiles profiles;
  };
  std::map<std::string, Kept> kept_;
};

}  // namespace cellarer::service
