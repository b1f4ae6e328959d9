// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <mutex>
#include <set>

#include "server/store/access_store.hpp"

namespace cellarer::store {

/// Access in memory, under one lock: the twin of the SQLite engine, for tests.
class MemoryAccessStore final : public AccessStore {
 public:
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

  /// Ends the phones of a household that is erased, and forgets their labels.
  void erase_phones(const std::string& household, Instant at);

  std::optional<std::string> note(const std::string& name) override;
  void set_note(const std::string& name, const std::string& value) override;

 private:
  struct Kept {
    StoredInvitation invitation;
    std::string code_hash;
  };

  Kept* by_code(const std::string& code_hash);
  std::optional<SessionRow> insert(StoredSession session);
  void end_keys(const std::string& account, const std::string& why, Instant at);
  bool end(const std::string& account, const std::string& why, Instant at);
  bool use_up(const std::string& selector, Instant at);

  std::mutex mutex_;
  std::set<std::string> agencies_{"agency"};
  std::map<std::string, StoredAccount> accounts_;
  std::map<std::string, Kept> invitations_;
  std::map<std::string, StoredSession> sessions_;
  std::map<std::string, StoredPasskey> passkeys_;
  std::map<std::string, StoredRecoveryCode> codes_;
  std::map<std::string, std::string> notes_;
  std::int64_t version_ = 0;
};

}  // namespace cellarer::store
