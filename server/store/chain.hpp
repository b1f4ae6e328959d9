// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include <SQLiteCpp/Database.h>

#include "server/store/chain_hash.hpp"
#include "server/store/store.hpp"

/// The audit trail: one chain of hashes per agency. Whatever is stored (a household, an entry) or done (an invitation,
/// a sign-in, an erasure, an export) appends one link, in the transaction of the thing itself.
///
///     content_hash = SHA-256(salt, at, who, action, subject, content)
///     hash         = SHA-256(agency, number, content_hash, hash of the link before)
///
/// A row that was changed, removed or inserted by hand no longer agrees with its link, and a link changed by hand no
/// longer with the next one. What nobody can see from inside is a chain computed anew from some link on to its end; a
/// head that was noted outside (`GET /audit` and every backup say it) shows that too.
///
/// Erasing a household deletes its rows with their salts and leaves the links: two hashes each, of nothing that can
/// be guessed.
namespace cellarer::store::chain {

/// Something that was done, which no other table keeps as it was.
struct Event {
  std::string agency;
  Instant at;
  std::string who;             ///< account; empty: the service itself
  std::string action;          ///< "invited", "bound", "signed-in", "ended", "exported", "erased" ...
  std::string subject;         ///< what it was done to: an account, an invitation; never a secret
  std::string content = "{}";  ///< JSON of what else is worth keeping; never a secret
  std::string household = "";  ///< key of the household with which the record is erased; empty: of the agency
};

/// Appends a link and its record; its number. Inside the transaction of what it tells of.
std::int64_t append(SQLite::Database& database, const Event& event);

/// The same for a row that holds the content itself. That of an entry has its link's number in it.
void append_household(SQLite::Database& database, std::int64_t household_id, const std::string& account);
/// Whose entry it is, and who recorded it.
struct EntryOf {
  std::int64_t household_id = 0;
  std::string household;  ///< key
  std::string account;
};
std::int64_t append_entry(SQLite::Database& database, const EntryOf& of, const StoredEntry& entry);

/// Gives links to all households and entries that have none: for stores older than the chain.
void adopt(SQLite::Database& database);

/// The newest link of an agency.
struct Head {
  std::int64_t number = 0;  ///< 0: there is none
  Digest hash = no_digest;
};
Head head(SQLite::Database& database, const std::string& agency);

/// Newest first, with numbers below `before`, at most `limit`.
std::vector<AuditLink> links(SQLite::Database& database, const std::string& agency, std::optional<std::int64_t> before,
                             std::size_t limit);

/// The content of the newest record of that action which the agency had by `until`.
std::optional<std::string> newest_content(SQLite::Database& database, const std::string& agency,
                                          const std::string& action, Instant until);

/// What is wrong with the chain of one agency, or (empty) of all, in sentences that name the row; at most 20. Empty:
/// nothing found.
std::vector<std::string> faults(SQLite::Database& database, const std::string& agency = "");

}  // namespace cellarer::store::chain
