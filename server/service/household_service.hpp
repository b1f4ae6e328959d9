// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <set>
#include <unordered_map>

#include "server/clock.hpp"
#include "server/error.hpp"
#include "server/service/agency_journal.hpp"
#include "server/service/agency_learning.hpp"
#include "server/service/agency_profiles.hpp"
#include "server/service/changes.hpp"
#include "server/service/entry.hpp"
#include "server/service/fold.hpp"
#include "server/service/home_lots.hpp"
#include "server/service/libraries.hpp"
#include "server/service/recent_homes.hpp"
#include "server/store/store.hpp"

/// The use cases: what can be done with households, by their keys (server/household_key.hpp), and their entries.
/// Everything is thread-safe; writes and `snapshot` belong on a worker. What cannot be done is thrown as `Problem`.
namespace cellarer::service {

/// What anybody hears of a household that is not there for him, whether or not it is there for others.
Problem unknown_household(const std::string& reference);

/// A household as of its newest entry. Shared and never changed.
struct Snapshot {
  std::int64_t last_entry = 0;
  HouseholdRecord record;
  std::map<std::int64_t, std::int64_t> voided_by;
  Common agency;      ///< what `record` was given of what the agency's households have in common
  Profiles profiles;  ///< with which it was folded
  Lots lots;          ///< what its agency said of lots
};

/// A write, as the door has checked it.
struct Write {
  std::string household;
  std::string kind;
  Instant at;
  std::string who;
  std::string body;  ///< JSON as it was sent
  std::string key;   ///< of idempotency
  std::optional<std::int64_t> voids = std::nullopt;
  std::string account = "";  ///< who recorded it, for the audit trail
};

struct Recorded {
  Entry entry;
  bool repeated = false;  ///< it was there already, under the same key
};

class HouseholdService {
 public:
  HouseholdService(store::Store& store, const Clock& clock, const Libraries& libraries)
      : store_(store),
        clock_(clock),
        libraries_(libraries),
        agencies_(store),
        journal_(store, clock),
        profiles_(journal_, libraries) {}

  /// Answers whether it was made before, under the same key. Throws `household-exists`, `key-reused`.
  bool create(const std::string& household, const std::string& document, const std::string& key,
              const std::string& account = "");

  /// Stores a fact. Throws `unknown-household`, `key-reused`.
  Recorded record(const Write& write);
  /// The same without a thread that waits for the disk: `told` is called once, as `store::Store::append_then` says,
  /// with what returns or throws what `record` would. That is not for the thread that calls `told`: it tells whoever
  /// listens.
  void record_then(const Write& write, const std::function<void(std::function<Recorded()>)>& told);
  /// Takes an entry back, and in the same act those of `with_it`, which stand on it. Throws `unknown-entry`,
  /// `already-voided`, `cannot-be-voided` (of a void).
  Recorded undo(Write write, std::int64_t entry, const std::vector<std::int64_t>& with_it = {});
  /// Answers whether a change is the same as the one before, or that more pacing goes on (`still`). Throws
  /// `nothing-to-answer`, `unknown-entry`.
  Recorded answer(Write write, std::int64_t entry, bool still);
  /// Ends what an entry began, at `write.at`. Throws `nothing-to-end`, `unknown-entry`, `out-of-range`.
  Recorded end(const Write& write, std::int64_t entry);

  /// Throws `unknown-household`.
  std::shared_ptr<const Snapshot> snapshot(const std::string& household);
  /// Somebody looks at this household: what he asks for next is made sooner (recent_homes.hpp).
  void looked_at(const Snapshot& household) {
    const std::lock_guard lock(mutex_);
    recent_.came(household.record.lessons);
  }
  /// Whoever goes through all households and comes back to none keeps no snapshot of them.
  void let_go(const std::string& household) {
    const std::lock_guard lock(mutex_);
    snapshots_.erase(household);
  }
  /// What its records say of lots, from memory where nothing was recorded since it was last asked for. Throws
  /// `unknown-household`.
  std::shared_ptr<const HomeLots> home_lots_of(const std::string& household);
  /// The household as it was known at a past moment: entries recorded by then, profiles approved by then, what its
  /// agency had learned by then. Throws `unknown-household`.
  HouseholdRecord record_at(const std::string& household, Instant at);
  /// Number of the newest entry: a short read. Throws `unknown-household`.
  std::int64_t last_entry(const std::string& household);

  /// Newest first. `voided_by` tells of answers "same", too.
  std::vector<Entry> entries(const std::string& household, std::optional<std::int64_t> before, std::size_t limit);
  std::vector<store::StoredHousehold> households(const std::string& after, std::size_t limit);
  /// The same of one agency; `after` and the answers' references are bare.
  std::vector<store::StoredHousehold> households_of(const std::string& agency, const std::string& after,
                                                    std::size_t limit);
  /// What kind of entry that is. Throws `unknown-household`, `unknown-entry`.
  std::string kind_of_entry(const std::string& household, std::int64_t number);

  /// Removes the household with all that is known of it; how much went. Its stock is added to its agency's ledger.
  /// Throws `unknown-household`.
  store::ErasedHousehold erase(const std::string& household, const std::string& account);

  /// Every entry, taken back or not, in the order of recording; that it was exported goes into the audit trail. Throws
  /// `unknown-household`.
  std::vector<Entry> export_entries(const std::string& household, const std::string& account);

  /// Keys of an agency's households, each given to `work`. One whose record cannot be read, or that was erased in the
  /// meantime, keeps `work` from no other.
  void for_each_of(const std::string& agency, const std::function<void(const std::string& household)>& work);
  /// References of the agency's households that could not be read when `snapshot` was last asked for them: whoever has
  /// gone through all of them says whom the result leaves out.
  std::vector<std::string> unreadable_of(const std::string& agency);
  std::vector<store::ErasedStock> erased_stock(const std::string& agency) { return store_.erased_stock(agency); }
  std::vector<store::AuditLink> audit(const std::string& agency, std::optional<std::int64_t> before,
                                      std::size_t limit) {
    return store_.audit(agency, before, limit);
  }
  std::vector<std::string> audit_faults(const std::string& agency) { return store_.audit_faults(agency); }

  /// Throws `clock-behind` while an entry is there that was recorded later than now: the clock is wrong, or was, and
  /// nothing that depends on it may be said. A short read at most.
  void require_clock();

  /// What the household's agency says of lots: recalls and corrected numbers. A short read.
  Lots lots_of(const std::string& household);
  Lots lots_of_agency(const std::string& agency) { return lots_.of(agency); }

  /// What agencies' households have in common.
  AgencyBook& agencies() { return agencies_; }
  /// What agencies record of themselves, and writes that touch several households.
  AgencyJournal& journal() { return journal_; }
  /// Who wants to hear of what is written.
  Changes& changes() { return changes_; }
  /// Profiles that agencies approved, over those of the program.
  ProfileBook& profiles() { return profiles_; }
  const Clock& clock() const { return clock_; }
  /// The program's; a household's own are `profiles().libraries_of`.
  const Libraries& libraries() const { return libraries_; }
  bool ready() { return store_.ready(); }

 private:
  struct KeptLots {
    std::int64_t last_entry = 0;
    Profiles profiles;
    Lots lots;
    std::shared_ptr<const HomeLots> home;
  };

  store::NewEntry to_store(const Write& write);
  /// What became of it, told to who listens.
  Recorded recorded(const Write& write, const store::EntryWritten& written);
  Entry require_entry(const std::string& household, std::int64_t number);
  std::shared_ptr<Snapshot> read(const store::StoredHousehold& household, const Profiles& profiles, const Lots& lots);

  store::Store& store_;
  const Clock& clock_;
  const Libraries& libraries_;
  AgencyBook agencies_;
  AgencyJournal journal_;
  Changes changes_;
  ProfileBook profiles_;
  LotBook lots_{journal_};
  std::mutex mutex_;
  std::unordered_map<std::string, std::shared_ptr<const Snapshot>> snapshots_;
  std::unordered_map<std::string, KeptLots> home_lots_;  ///< of all that were asked for: some 3 KB each
  RecentHomes recent_;
  std::set<std::string> unreadable_;  ///< keys
  std::uint64_t erasures_ = 0;        ///< a record that was read before one of them is not kept
  /// Nothing was recorded later than this; the store need not be asked before a clock goes back behind it.
  std::atomic<Instant> right_since_{Instant::max()};
};

}  // namespace cellarer::service
