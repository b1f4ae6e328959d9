// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "model/review/agency_review.hpp"
#include "server/service/bench_journal.hpp"
#include "server/service/reviewed_home.hpp"

/// What the technician's review found in an agency's homes, looked at together (model/review). It holds no home's sets:
/// those of a home are some 8 KB, and a country's agencies have a hundred thousand homes.
namespace cellarer::service {

/// A finding with what became of it.
struct ListedFinding {
  std::string id, household;  ///< household's bare reference; empty: the agency's, of a lot or a unit
  nlohmann::json document;    ///< finding_document
  std::vector<std::string> homes;
  std::vector<FindingNote> notes;  ///< by time
  FindingState state = FindingState::open;
  std::string reopens;    ///< id of the closed one whose place this took, or its own id
  bool borne_out = true;  ///< false: it was noted, and records as they are now do not raise it
  Instant raised_at;

  std::int64_t newest() const { return notes.empty() ? 0 : notes.back().number; }
};

using ReviewedHomes = std::vector<std::shared_ptr<const ReviewedHome>>;

struct ReviewedAgency {
  Instant as_of;
  std::vector<HomeOutline> homes;  ///< by reference
  /// By home: what was measured on the bench of a unit that it had last.
  std::map<std::string, std::vector<review::Check>> bench_checks;
  std::map<std::string, std::string> cell_types;  ///< by lot
  review::ReviewOptions options;
  review::AgencyReview review;          ///< lots and units; its findings have gone into these
  std::vector<ListedFinding> findings;  ///< newest first, closed ones too
  std::vector<review::WearOfKind> wear;
  BenchJournal bench;
  std::int64_t journal_version = 0;
  Common knowledge;
  Profiles profiles;
  Lots lots;
};

/// Looks at all homes together. Of the agency its journal, what it learned and the moment are there already.
void review_together(ReviewedAgency& agency, const ReviewedHomes& homes, const Libraries& libraries);

/// All findings of the agency's review with their notes, newest first.
std::vector<ListedFinding> listed_findings(const ReviewedAgency& agency, const ReviewedHomes& homes);
/// State and place of a finding after its notes; `new_sets` have come out since the last note.
void settle_state(ListedFinding& finding, int new_sets);

}  // namespace cellarer::service
