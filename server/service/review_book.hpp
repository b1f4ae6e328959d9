// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <map>
#include <memory>
#include <mutex>

#include "model/review/agency_review.hpp"
#include "server/service/bench_journal.hpp"
#include "server/service/reviewed_home.hpp"

/// The technician's review of each agency (model/review), kept while nothing changed. It is computed beside the
/// service, a household at a time as its entries change, then all together: a home takes tens of milliseconds, an
/// agency some ten more for each of its homes. A small agency is brought up to date by whoever asks.
namespace cellarer::service {

/// An agency with no more homes is brought up to date by whoever asks.
inline constexpr std::size_t small_agency = 40;

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

struct ReviewedAgency {
  Instant as_of;
  std::vector<std::shared_ptr<const ReviewedHome>> homes;  ///< by reference
  std::vector<review::HouseholdHistory> histories;         ///< theirs, with what the bench measured
  review::ReviewOptions options;
  review::AgencyReview review;
  std::vector<ListedFinding> findings;  ///< newest first, closed ones too
  std::vector<review::WearOfKind> wear;
  BenchJournal bench;
  std::int64_t journal_version = 0;
  Common knowledge;
  Lots lots;
};

struct Reviewed {
  std::shared_ptr<const ReviewedAgency> agency;  ///< never null; empty until it was first made
  std::size_t waiting = 0;                       ///< households with newer entries than it
};

/// What somebody wants to note about a finding.
struct NoteWish {
  std::string agency;
  FindingNote note;          ///< finding, state, reason, note, who
  std::int64_t follows = 0;  ///< number of the newest note that they had seen, 0 none
  std::string key, account;
};

/// Thread-safe. Everything here belongs on a worker.
class ReviewBook {
 public:
  explicit ReviewBook(HouseholdService& households) : households_(households) {}

  Reviewed of(const std::string& agency);
  /// One household, as of its newest entry. Throws `unknown-household`.
  std::shared_ptr<const ReviewedHome> home(const std::string& household);
  /// Keeps what somebody did about a finding. The finding as it stands after. Throws `unknown-finding`, `outdated`.
  ListedFinding note(const NoteWish& wish);
  /// After its household was erased: another may come under its name.
  void forget(const std::string& household);

  /// Every agency whose entries have changed; long, ends early when `ending` becomes true. How many homes it renewed.
  std::size_t renew(const std::atomic<bool>& ending);

 private:
  struct Shelf {
    std::mutex working;  ///< one renewal of an agency at a time
    std::map<std::string, std::shared_ptr<const ReviewedHome>> homes;
    std::shared_ptr<const ReviewedAgency> kept;
  };
  using Shelved = std::shared_ptr<Shelf>;

  Shelved shelf(const std::string& agency);
  bool holds(const ReviewedAgency& kept, const std::string& agency, std::size_t stale);
  void keep_noted(const std::string& agency, const ListedFinding& finding);
  std::size_t bring_up_to_date(const std::string& agency, Shelf& shelf, const std::atomic<bool>& ending);

  HouseholdService& households_;
  std::mutex mutex_;   ///< of the shelves' maps and pointers; held for moments
  std::mutex noting_;  ///< what somebody saw is still so when their note is kept
  std::map<std::string, Shelved> shelves_;
};

/// All findings of a review with their notes, newest first.
std::vector<ListedFinding> listed_findings(const ReviewedAgency& agency);
/// State and place of a finding after its notes; `new_sets` have come out since the last note.
void settle_state(ListedFinding& finding, int new_sets);

}  // namespace cellarer::service
