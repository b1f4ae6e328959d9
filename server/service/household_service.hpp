// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <mutex>
#include <unordered_map>

#include "server/clock.hpp"
#include "server/error.hpp"
#include "server/service/entry.hpp"
#include "server/service/fold.hpp"
#include "server/service/libraries.hpp"
#include "server/store/store.hpp"

/// The use cases: what can be done with households and their entries. Everything is thread-safe; writes
/// and `snapshot` belong on a worker. What cannot be done is thrown as `Problem`.
namespace cellarer::service {

/// A household as of its newest entry. Shared and never changed.
struct Snapshot {
  std::int64_t last_entry = 0;
  HouseholdRecord record;
  std::map<std::int64_t, std::int64_t> voided_by;
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
};

struct Recorded {
  Entry entry;
  bool repeated = false;  ///< it was there already, under the same key
};

class HouseholdService {
 public:
  HouseholdService(store::Store& store, const Clock& clock, const Libraries& libraries)
      : store_(store), clock_(clock), libraries_(libraries) {}

  /// Answers whether it was made before, under the same key. Throws `household-exists`, `key-reused`.
  bool create(const HouseholdFact& fact, const std::string& document, const std::string& key);

  /// Stores a fact. Throws `unknown-household`, `key-reused`.
  Recorded record(const Write& write);
  /// Takes an entry back. Throws `unknown-entry`, `already-voided`, `cannot-be-voided` (of a void).
  Recorded undo(Write write, std::int64_t entry);
  /// Answers whether a change is the same as the one before, or that more pacing goes on (`still`). Throws
  /// `nothing-to-answer`, `unknown-entry`.
  Recorded answer(Write write, std::int64_t entry, bool still);
  /// Ends what an entry began, at `write.at`. Throws `nothing-to-end`, `unknown-entry`, `out-of-range`.
  Recorded end(const Write& write, std::int64_t entry);

  /// Throws `unknown-household`.
  std::shared_ptr<const Snapshot> snapshot(const std::string& household);
  /// Number of the newest entry: a short read. Throws `unknown-household`.
  std::int64_t last_entry(const std::string& household);

  /// Newest first. `voided_by` tells of answers "same", too.
  std::vector<Entry> entries(const std::string& household, std::optional<std::int64_t> before, std::size_t limit);
  std::vector<store::StoredHousehold> households(const std::string& after, std::size_t limit);

  const Clock& clock() const { return clock_; }
  const Libraries& libraries() const { return libraries_; }
  bool ready() { return store_.ready(); }

 private:
  Entry require_entry(const std::string& household, std::int64_t number);

  store::Store& store_;
  const Clock& clock_;
  const Libraries& libraries_;
  std::mutex mutex_;
  std::unordered_map<std::string, std::shared_ptr<const Snapshot>> snapshots_;
};

}  // namespace cellarer::service
