// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"

/// What the service keeps, as an abstract class: append-only entries per household. Two engines stand
/// behind it, SQLite (sqlite_store.hpp) and memory (memory_store.hpp); both pass the same contract tests
/// (tests/server/store_contract.cpp), and so must any other.
///
/// Every write carries an idempotency key. The same key with the same content is stored once and answers
/// what was stored; with other content it is `key_reused`. A write returns only when it is durable, so
/// writes belong on a worker. Everything is thread-safe. A failing disk throws `StoreError`.
namespace cellarer::store {

class StoreError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct StoredHousehold {
  std::string reference;
  std::string document;  ///< JSON: zone, changing times, area, items
  Instant created_at;
  std::int64_t last_entry = 0;  ///< number of the newest entry, 0 when there is none
};

struct StoredEntry {
  std::int64_t number = 0;  ///< 1, 2, 3 ... within its household, in the order of recording
  std::string kind;
  Instant at;                             ///< when it happened
  Instant recorded_at;                    ///< when it was stored
  std::string who;                        ///< a phone's label; may be empty
  std::string body;                       ///< JSON as it was sent
  std::optional<std::int64_t> voids;      ///< the entry that this one takes back
  std::optional<std::int64_t> voided_by;  ///< the entry that takes this one back
};

struct NewHousehold {
  std::string reference, document, key;
  Instant recorded_at;
};

struct NewEntry {
  std::string household, kind;
  Instant at, recorded_at;
  std::string who, body, key;
  std::optional<std::int64_t> voids = std::nullopt;
};

enum class Outcome {
  stored,
  repeated,           ///< the same key and content as before: the answer is the one of then
  key_reused,         ///< the same key, other content: nothing stored
  household_exists,   ///< under another key: nothing stored
  unknown_household,  ///< nothing stored
  unknown_entry,      ///< `voids` names none of this household's: nothing stored
  already_voided      ///< nothing stored; the answer is the entry that was to be voided
};

struct HouseholdWritten {
  Outcome outcome = Outcome::stored;
  StoredHousehold household;
};

struct EntryWritten {
  Outcome outcome = Outcome::stored;
  StoredEntry entry;  ///< stored, repeated, already_voided: that entry
};

class Store {
 public:
  virtual ~Store() = default;

  virtual HouseholdWritten create_household(const NewHousehold& household) = 0;
  virtual EntryWritten append(const NewEntry& entry) = 0;

  virtual std::optional<StoredHousehold> household(const std::string& reference) = 0;
  /// In the order of their references, those after `after` ("" for the first), at most `limit`.
  virtual std::vector<StoredHousehold> households(const std::string& after, std::size_t limit) = 0;
  /// All of one household in the order of recording; empty for an unknown one.
  virtual std::vector<StoredEntry> entries(const std::string& household) = 0;
  /// Newest first, with numbers below `before` (none: from the newest), at most `limit`.
  virtual std::vector<StoredEntry> newest_entries(const std::string& household, std::optional<std::int64_t> before,
                                                  std::size_t limit) = 0;
  virtual std::optional<StoredEntry> entry(const std::string& household, std::int64_t number) = 0;

  /// Whether the store answers: a short read. Never throws.
  virtual bool ready() = 0;
  /// Writes what is only in a log to its final place; at an orderly end.
  virtual void checkpoint() = 0;
};

}  // namespace cellarer::store
