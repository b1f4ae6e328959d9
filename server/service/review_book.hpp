// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <map>
#include <memory>
#include <mutex>
#include <set>

#include "server/service/reviewed_agency.hpp"

/// The technician's review of each agency (model/review), kept while nothing changed. It is computed beside the
/// service, a household at a time as its entries change, then all together: a home takes tens of milliseconds, an
/// agency some ten more for each of its homes. A small agency is brought up to date by whoever asks.
///
/// What was found is kept of every agency. Its homes' sets are kept only of agencies that somebody asked about lately,
/// so that an entry there costs the reading of one home; of the others they are let go, and such an agency is reviewed
/// anew once a day, or when somebody asks about it and entries have changed.
namespace cellarer::service {

/// An agency with no more homes is brought up to date by whoever asks.
inline constexpr std::size_t small_agency = 40;
/// So many homes are kept with their sets, of all agencies together: some 40 MB. A larger agency is read as a whole
/// each time.
inline constexpr std::size_t most_homes_with_sets = 5000;
inline constexpr std::chrono::hours reviewed_anew_after{24};

struct Reviewed {
  std::shared_ptr<const ReviewedAgency> agency;  ///< never null; empty until it was first made
  std::size_t waiting = 0;                       ///< households with newer entries than it
  bool fresh = false;                            ///< it was made, and no household has newer entries
  bool made = true;                              ///< false: the first one since the start is under way
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
  explicit ReviewBook(HouseholdService& households, std::size_t most_homes = most_homes_with_sets)
      : households_(households), most_homes_(most_homes) {}

  Reviewed of(const std::string& agency);
  /// One household, as of its newest entry. Throws `unknown-household`.
  std::shared_ptr<const ReviewedHome> home(const std::string& household);
  /// Some of an agency, the same, by reference; without those that were erased or cannot be read.
  ReviewedHomes homes(const std::string& agency, const std::set<std::string>& references);
  /// Keeps what somebody did about a finding. The finding as it stands after. Throws `unknown-finding`, `outdated`.
  ListedFinding note(const NoteWish& wish);
  /// After its household was erased: another may come under its name.
  void forget(const std::string& household);

  /// Brings agencies up to date that somebody asked about lately; ends early when `ending` becomes true. How many homes
  /// it read.
  std::size_t renew_asked(const std::atomic<bool>& ending);
  /// The next one of the others that was never reviewed, or not for a day. How many homes it read; none: it was the
  /// last one's turn, and the next call begins anew.
  std::optional<std::size_t> renew_next(const std::atomic<bool>& ending);
  /// Somebody asked about an agency whose homes had been let go, and it is not up to date.
  bool awaited() const { return awaited_; }
  std::size_t homes_with_sets();

 private:
  using Journal = std::vector<store::StoredAgencyEntry>;
  using Newest = std::map<std::string, std::int64_t>;  ///< number of each home's newest entry, by reference
  struct Shelf {
    std::mutex working;  ///< one renewal of an agency at a time
    std::map<std::string, std::shared_ptr<const ReviewedHome>> homes;
    std::shared_ptr<const ReviewedAgency> kept;
    std::uint64_t asked = 0;   ///< when somebody asked last, counted in questions; 0: its homes were let go since
    std::uint64_t erased = 0;  ///< homes that were erased so far
    std::optional<Instant> looked_at;
  };
  using Shelved = std::shared_ptr<Shelf>;

  Shelved shelf(const std::string& agency);
  std::shared_ptr<ReviewedAgency> begun(const std::string& agency, const Journal& journal);
  Newest newest_entries(const std::string& agency);
  bool is_due(const std::string& agency);
  void keep_noted(const std::string& agency, const ListedFinding& finding);
  std::size_t bring_up_to_date(const std::string& agency, Shelf& shelf, const std::atomic<bool>& ending);
  void keep_homes(Shelf& shelf, const ReviewedHomes& homes);
  void let_go_beyond_most();

  HouseholdService& households_;
  const std::size_t most_homes_;
  std::mutex mutex_;   ///< of the shelves' maps and pointers; held for moments
  std::mutex noting_;  ///< what somebody saw is still so when their note is kept
  std::map<std::string, Shelved> shelves_;
  std::uint64_t asked_ = 0;  ///< questions so far
  std::atomic<bool> awaited_{false};
  std::string renewed_last_;  ///< of `renew_next`, which one thread calls
};

}  // namespace cellarer::service
