// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"

/// Who may come in, as it is kept: agencies, accounts, invitations, sessions, passkeys, recovery codes. An abstract
/// class like `Store`, with two engines that pass the same contract tests (tests/server/access_store_contract.cpp).
///
/// What the words mean (roles, permissions, how long) is server/access's matter; here they are texts. Tokens and
/// codes come as hashes. Writes return when they are durable, so they belong on a worker; everything is thread-safe; a
/// failing disk throws `StoreError`.
namespace cellarer::store {

/// By whom and when something is done, for the audit trail.
struct Done {
  std::string by;  ///< account; empty: the command line
  Instant at;
};

struct StoredAccount {
  std::string id, agency, household, role, label;
  struct Hours {
    int from_min = 0, to_min = 0;
  };
  std::optional<Hours> hours = std::nullopt;
  std::string zone = "";
  std::optional<Instant> until = std::nullopt;
  Instant created_at = {};
  std::optional<Instant> bound_at = std::nullopt, recovery_used_at = std::nullopt, ended_at = std::nullopt;
  std::string ended_why = "";
};

struct StoredInvitation {
  std::string id, account, invited_by;
  bool without_passkey = false;
  Instant created_at = {}, expires_at = {};
  std::optional<Instant> used_at = std::nullopt;
};

struct InvitationRow {
  StoredInvitation invitation;
  StoredAccount account;
};

struct StoredSession {
  std::string id, account;
  std::string token_hash, previous_hash = "";            ///< bytes; empty: there is no previous one
  std::optional<Instant> previous_until = std::nullopt;  ///< none: while the new token was never seen
  Instant signed_in_at = {}, rotated_at = {}, last_seen_at = {}, expires_at = {};
  std::optional<Instant> ended_at = std::nullopt;
  std::string ended_why = "";
  std::int64_t changed = 0;
};

struct SessionRow {
  StoredSession session;
  StoredAccount account;
};

struct AccountRow {
  StoredAccount account;
  std::optional<Instant> last_seen_at;
};

/// What the service learned of a session without writing each time.
struct Seen {
  std::string session;
  Instant at;
  std::optional<Instant> previous_until;  ///< the token's follower has now been seen
};

struct StoredPasskey {
  std::string credential, account;  ///< credential: bytes
  std::string cose_key;             ///< bytes
  std::int64_t sign_count = 0;
  bool user_verified = false, backup_eligible = false, backed_up = false;
  Instant created_at = {};
  std::optional<Instant> last_used_at = std::nullopt;
};

struct StoredRecoveryCode {
  std::string selector, hash, account, household;
  Instant created_at = {};
  std::optional<Instant> used_at = std::nullopt;
};

/// What is stored with an invitation's acceptance, all or nothing.
struct Acceptance {
  std::string label;  ///< empty: as invited
  StoredSession session;
  std::optional<StoredPasskey> passkey = std::nullopt;
  std::vector<StoredRecoveryCode> recovery_codes = {};
};

struct AgencySize {
  std::string reference;
  std::int64_t households = 0, accounts = 0;
};

class AccessStore {
 public:
  virtual ~AccessStore() = default;

  /// False where it is there already.
  virtual bool add_agency(const std::string& reference, const Done& done) = 0;
  virtual bool has_agency(const std::string& reference) = 0;
  virtual std::vector<AgencySize> agencies() = 0;

  /// Stores the account unless it is there (a further invitation to it), with the invitation.
  virtual void invite(const StoredAccount& account, const StoredInvitation& invitation,
                      const std::string& code_hash) = 0;
  /// Whatever has become of it.
  virtual std::optional<InvitationRow> invitation(const std::string& code_hash) = 0;
  /// Open ones of an agency; with `household`, to its phones alone.
  virtual std::vector<InvitationRow> invitations(const std::string& agency, const std::string& household,
                                                 Instant now) = 0;
  /// False where it is not open.
  virtual bool withdraw(const std::string& invitation, const Done& done) = 0;
  /// Binds the account and opens its session. A passkey that comes with it is the account's only one from then on:
  /// those before, its codes and its other sessions are ended, for a device that is gone. None where the invitation is
  /// used or over, or the account ended.
  virtual std::optional<SessionRow> accept(const std::string& code_hash, const Acceptance& acceptance, Instant at) = 0;

  /// By passkey or recovery code. None where the account ended.
  virtual std::optional<SessionRow> open_session(const StoredSession& session, Instant at) = 0;
  /// The session's new token; the one before stays good until the new one was seen. Answers the new `changed`, 0
  /// where the session has ended.
  virtual std::int64_t rotate(const StoredSession& session) = 0;
  /// Sessions that ended, or were over, before that moment: how many were removed. What the trail says of them stays.
  virtual std::int64_t remove_sessions_ended_before(Instant moment) = 0;
  virtual void note_seen(const std::vector<Seen>& seen) = 0;
  virtual bool end_session(const std::string& session, const std::string& why, const Done& done) = 0;
  /// All that changed after that value of `changed`, of this program or another, in the order of change.
  virtual std::vector<SessionRow> sessions_changed_since(std::int64_t changed) = 0;
  virtual std::vector<StoredSession> sessions_of(const std::string& account, Instant now) = 0;

  virtual std::optional<StoredAccount> account(const std::string& id) = 0;
  /// Bound and not ended. `household` empty: staff.
  virtual std::vector<AccountRow> accounts(const std::string& agency, const std::string& household) = 0;
  /// Ends the account with its sessions, invitations and keys. False where it is not there or has ended.
  virtual bool end_account(const std::string& id, const std::string& why, const Done& done) = 0;

  virtual void add_passkey(const StoredPasskey& passkey, const Done& done) = 0;
  virtual std::optional<StoredPasskey> passkey(const std::string& credential) = 0;
  virtual std::vector<StoredPasskey> passkeys(const std::string& account) = 0;
  /// What its last use told: count and flags.
  virtual void passkey_used(const StoredPasskey& passkey, Instant at) = 0;

  /// The codes before are void. `recovery_used_at` of whoever makes them is cleared.
  virtual void replace_recovery_codes(const std::string& account, const std::string& household,
                                      const std::vector<StoredRecoveryCode>& codes, const Done& done) = 0;
  /// An unused one.
  virtual std::optional<StoredRecoveryCode> recovery_code(const std::string& selector) = 0;
  /// Uses a staff member's code up and opens a session. None where the code was used, or the account ended.
  virtual std::optional<SessionRow> recover(const std::string& selector, const StoredSession& session, Instant at) = 0;
  /// Uses a household's sealed code up: ends all its phones, and opens the session of a new one.
  virtual std::optional<SessionRow> recover_household(const std::string& selector, const StoredAccount& phone,
                                                      const StoredSession& session, Instant at) = 0;

  virtual std::optional<std::string> note(const std::string& name) = 0;
  virtual void set_note(const std::string& name, const std::string& value) = 0;
};

}  // namespace cellarer::store
