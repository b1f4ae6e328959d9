// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <memory>
#include <mutex>

#include "server/clock.hpp"
#include "server/store/store.hpp"

/// What each agency records of itself (store.hpp, `StoredAgencyEntry`), kept in memory as it grows: rounds, its own
/// stock, recalls, approved words. Who folds it reads all of it, in the order of recording.
namespace cellarer::service {

/// An entry, as the door has checked it. It names no household.
struct AgencyWrite {
  std::string agency, kind, subject;
  std::string body, key;
  std::string account = "";
  std::optional<std::int64_t> follows = std::nullopt;  ///< see store::NewAgencyEntry
};

struct AgencyRecorded {
  store::StoredAgencyEntry entry;
  bool repeated = false;  ///< it was there already, under the same key
};

/// Thread-safe; writes belong on a worker.
class AgencyJournal {
 public:
  using Entries = std::shared_ptr<const std::vector<store::StoredAgencyEntry>>;

  AgencyJournal(store::Store& store, const Clock& clock) : store_(store), clock_(clock) {}

  /// Never null, never changed. Reads the store when an agency is asked for first.
  Entries of(const std::string& agency);
  /// Number of the newest entry, 0 where there is none: grows with each.
  std::int64_t version(const std::string& agency);

  /// Throws `key-reused`; `outdated` where somebody else was first (`more.newest` is the number of his entry).
  AgencyRecorded record(const AgencyWrite& write);
  /// All or nothing. Throws as `record` does, `household-exists`, `unknown-household`; `more.failed` says which of the
  /// batch it was, counted over households, entries and the agency's entries in turn.
  void write_together(const store::Batch& batch);

 private:
  /// Takes up what was stored since; under the lock.
  const Entries& renewed(const std::string& agency);

  store::Store& store_;
  const Clock& clock_;
  std::mutex mutex_;
  std::map<std::string, Entries> kept_;
};

}  // namespace cellarer::service
