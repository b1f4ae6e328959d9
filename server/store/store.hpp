// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <exception>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"
#include "server/store/access_store.hpp"
#include "server/store/reminder_store.hpp"

/// What the service keeps, as an abstract class: append-only entries per household, and per agency a journal. Two
/// engines stand behind it, SQLite (sqlite_store.hpp) and memory (memory_store.hpp); both pass the same contract tests
/// (tests/server/store_contract.cpp), and so must any other.
///
/// Every write carries an idempotency key. The same key with the same content is stored once and answers
/// what was stored; with other content it is `key_reused`. A write returns only when it is durable, so
/// writes belong on a worker; `append_then` returns at once and tells then. Everything is thread-safe. A failing disk
/// throws `StoreError`.
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
  std::string account = "";  ///< who made it, for the audit trail
};

struct NewEntry {
  std::string household, kind;
  Instant at, recorded_at;
  std::string who, body, key;
  std::optional<std::int64_t> voids = std::nullopt;
  std::string account = "";  ///< who recorded it, for the audit trail
};

enum class Outcome {
  stored,
  repeated,           ///< the same key and content as before: the answer is the one of then
  key_reused,         ///< the same key, other content: nothing stored
  household_exists,   ///< under another key: nothing stored
  unknown_household,  ///< nothing stored
  unknown_entry,      ///< `voids` names none of this household's: nothing stored
  already_voided,     ///< nothing stored; the answer is the entry that was to be voided
  more_was_recorded,  ///< since what an erasure was reckoned from: nothing erased
  outdated            ///< the journal went on since what the writer knew: nothing stored
};

/// Whether what was to be written is there now.
inline bool is_kept(Outcome outcome) { return outcome == Outcome::stored || outcome == Outcome::repeated; }

struct HouseholdWritten {
  Outcome outcome = Outcome::stored;
  StoredHousehold household;
};

struct EntryWritten {
  Outcome outcome = Outcome::stored;
  StoredEntry entry;  ///< stored, repeated, already_voided: that entry
};

/// Something that an agency records of itself: a round, a recall, its own stock. It never names a household, so that
/// erasing one leaves nothing of it behind.
struct StoredAgencyEntry {
  std::int64_t number = 0;    ///< of its link in the agency's chain; grows, with gaps
  std::string kind, subject;  ///< of what kind, and what it is about ("" for the agency itself)
  Instant recorded_at;
  std::string account;  ///< who recorded it; empty: the service itself
  std::string body;     ///< JSON
};

struct NewAgencyEntry {
  std::string agency, kind, subject;
  Instant recorded_at;
  std::string body, key;
  std::string account = "";
  /// Number of the newest entry of this kind and subject that the writer knew, 0 for none: with another newest one
  /// nothing is stored, so that of two who decide the same at once the second is told. None: not looked at.
  std::optional<std::int64_t> follows = std::nullopt;
};

struct AgencyEntryWritten {
  Outcome outcome = Outcome::stored;
  StoredAgencyEntry entry;  ///< stored, repeated, key_reused: that entry; outdated: the newest, number 0 where none is
};

/// Writes that belong together: all are stored or none.
struct Batch {
  std::vector<NewHousehold> households;
  std::vector<NewEntry> entries;
  std::vector<NewAgencyEntry> agency_entries;
};

struct BatchWritten {
  Outcome outcome = Outcome::stored;
  std::size_t failed = 0;  ///< where none was stored: the first that could not be, counted over all three in turn
};

/// What became of one lot of one item in the homes that were erased, in pieces. Always
/// received = used + discarded + unaccounted + left_behind.
struct ErasedStock {
  std::string item, lot;  ///< lot empty: not known
  std::int64_t received = 0, used = 0, discarded = 0, unaccounted = 0;
  std::int64_t left_behind = 0;  ///< was in the home when it was erased
};

struct Erasure {
  std::string household;
  std::int64_t last_entry = 0;     ///< the newest that `stock` was reckoned from
  std::vector<ErasedStock> stock;  ///< is added to the agency's
  Instant at;
  std::string account;
};

struct ErasedHousehold {
  Outcome outcome = Outcome::stored;
  std::int64_t entries = 0, links = 0;  ///< rows that went; links that stay as hashes alone
};

/// One link of an agency's audit trail.
struct AuditLink {
  std::int64_t number = 0;
  std::string content_hash, hash;  ///< hexadecimal
  bool erased = false;             ///< then only the hashes above are left
  Instant at;
  std::string who;        ///< account; empty: the service itself
  std::string action;     ///< the kind of the entry, "household", or what was done
  std::string subject;    ///< number of the entry, or what it was done to
  std::string household;  ///< key; empty: none
};

/// Something done with a household that stores nothing else: that it was exported.
struct AuditEvent {
  std::string household, account, action;
  Instant at;
};

/// Of the record in which is kept what an agency's households have taught.
inline constexpr const char* learned_action = "learned";

/// An entry, not taken back, that was recorded later than some moment.
struct LaterRecord {
  std::string household;
  std::int64_t entry = 0;
  Instant recorded_at;
};

class Store {
 public:
  virtual ~Store() = default;

  virtual HouseholdWritten create_household(const NewHousehold& household) = 0;
  virtual EntryWritten append(const NewEntry& entry) = 0;
  /// The same without a thread that waits for the disk. `told` is called once: with what became of it, when that is
  /// durable, or with null and why not. It may be called by the thread on which all writes wait: it is short, throws
  /// nothing and writes nothing. A store that has no such thread calls it before this returns.
  using Told = std::function<void(const EntryWritten*, std::exception_ptr)>;
  virtual void append_then(const NewEntry& entry, const Told& told) {
    EntryWritten written;
    try {
      written = append(entry);
    } catch (...) {
      return told(nullptr, std::current_exception());
    }
    told(&written, nullptr);
  }
  virtual AgencyEntryWritten append(const NewAgencyEntry& entry) = 0;
  virtual BatchWritten write_together(const Batch& batch) = 0;

  virtual std::optional<StoredHousehold> household(const std::string& reference) = 0;
  /// In the order of their references, those after `after` ("" for the first), at most `limit`.
  virtual std::vector<StoredHousehold> households(const std::string& after, std::size_t limit) = 0;
  /// All of one household in the order of recording; empty for an unknown one.
  virtual std::vector<StoredEntry> entries(const std::string& household) = 0;
  /// Newest first, with numbers below `before` (none: from the newest), at most `limit`.
  virtual std::vector<StoredEntry> newest_entries(const std::string& household, std::optional<std::int64_t> before,
                                                  std::size_t limit) = 0;
  virtual std::optional<StoredEntry> entry(const std::string& household, std::int64_t number) = 0;

  /// In the order of recording, those after `after`.
  virtual std::vector<StoredAgencyEntry> agency_entries(const std::string& agency, std::int64_t after = 0) = 0;

  /// Removes a household with all that is known of it. Of its links in the audit trail the hashes stay, its
  /// stock is added to what erased households of its agency leave behind.
  virtual ErasedHousehold erase(const Erasure& erasure) = 0;
  /// By item and lot.
  virtual std::vector<ErasedStock> erased_stock(const std::string& agency) = 0;

  /// Adds a link to the trail of the household's agency.
  virtual void note(const AuditEvent& event) = 0;
  /// What an agency's households have taught together, a JSON document: a record of the trail each time it is kept.
  virtual void keep_learned(const std::string& agency, const std::string& document, Instant at) = 0;
  /// The newest of them that was kept by `until`; none: nothing was kept yet.
  virtual std::optional<std::string> newest_learned(const std::string& agency, Instant until = Instant::max()) = 0;
  /// Newest first, with numbers below `before` (none: from the newest), at most `limit`.
  virtual std::vector<AuditLink> audit(const std::string& agency, std::optional<std::int64_t> before,
                                       std::size_t limit) = 0;
  /// The agency's chain computed anew and compared with the rows that are there: what is wrong, in sentences.
  virtual std::vector<std::string> audit_faults(const std::string& agency) = 0;

  /// The newest entry recorded after `now`, if there is one: then the clock is wrong, or was.
  virtual std::optional<LaterRecord> recorded_after(Instant now) = 0;

  /// Whether the store answers: a short read. Never throws.
  virtual bool ready() = 0;
  /// Writes what is only in a log to its final place; at an orderly end.
  virtual void checkpoint() = 0;

  /// Who may come in, kept in the same place.
  virtual AccessStore& access() = 0;
  /// Secret addresses, phones that are pushed to, reminders that went out; in the same place too.
  virtual ReminderStore& reminders() = 0;
};

}  // namespace cellarer::store
