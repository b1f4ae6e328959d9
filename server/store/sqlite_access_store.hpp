// SPDX-License-Identifier: MIT
#pragma once
#include "server/store/access_store.hpp"
#include "server/store/sqlite_engine.hpp"

namespace cellarer::store {

/// Access in the same SQLite file as the entries. One file of methods a subject: sqlite_accounts.cpp,
/// sqlite_sessions.cpp, sqlite_keys.cpp.
class SqliteAccessStore final : public AccessStore {
 public:
  explicit SqliteAccessStore(SqliteEngine& engine) : engine_(engine) {}

  bool add_agency(const std::string& reference, const Done& done) override;
  bool has_agency(const std::string& reference) override;
  std::vector<AgencySize> agencies() override;

  void invite(const StoredAccount& account, const StoredInvitation& invitation, const std::string& code_hash) override;
  std::optional<InvitationRow> invitation(const std::string& code_hash) override;
  std::vector<InvitationRow> invitations(const std::string& agency, const std::string& household, Instant now) override;
  bool withdraw(const std::string& invitation, const Done& done) override;
  std::optional<SessionRow> accept(const std::string& code_hash, const Acceptance& acceptance, Instant at) override;

  std::optional<SessionRow> open_session(const StoredSession& session, Instant at) override;
  std::int64_t rotate(const StoredSession& session) override;
  std::int64_t remove_sessions_ended_before(Instant moment) override;
  void note_seen(const std::vector<Seen>& seen) override;
  bool end_session(const std::string& session, const std::string& why, const Done& done) override;
  std::vector<SessionRow> sessions_changed_since(std::int64_t changed) override;
  std::vector<StoredSession> sessions_of(const std::string& account, Instant now) override;

  std::optional<StoredAccount> account(const std::string& id) override;
  std::vector<AccountRow> accounts(const std::string& agency, const std::string& household) override;
  bool end_account(const std::string& id, const std::string& why, const Done& done) override;

  void add_passkey(const StoredPasskey& passkey, const Done& done) override;
  std::optional<StoredPasskey> passkey(const std::string& credential) override;
  std::vector<StoredPasskey> passkeys(const std::string& account) override;
  void passkey_used(const StoredPasskey& passkey, Instant at) override;

  void replace_recovery_codes(const std::string& account, const std::string& household,
                              const std::vector<StoredRecoveryCode>& codes, const Done& done) override;
  std::optional<StoredRecoveryCode> recovery_code(const std::string& selector) override;
  std::optional<SessionRow> recover(const std::string& selector, const StoredSession& session, Instant at) override;
  std::optional<SessionRow> recover_household(const std::string& selector, const StoredAccount& phone,
                                              const StoredSession& session, Instant at) override;

  std::optional<std::string> note(const std::string& name) override;
  void set_note(const std::string& name, const std::string& value) override;

 private:
  SqliteEngine& engine_;
};

}  // namespace cellarer::store
