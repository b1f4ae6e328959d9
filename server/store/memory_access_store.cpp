// SPDX-License-Identifier: MIT
#include "server/store/memory_access_store.hpp"

#include <algorithm>

namespace cellarer::store {

using Lock = std::lock_guard<std::mutex>;

bool MemoryAccessStore::add_agency(const std::string& reference, const Done&) {
  const Lock lock(mutex_);
  return agencies_.insert(reference).second;
}

bool MemoryAccessStore::has_agency(const std::string& reference) {
  const Lock lock(mutex_);
  return agencies_.count(reference) == 1;
}

/// Households stand elsewhere and are not counted here.
std::vector<AgencySize> MemoryAccessStore::agencies() {
  const Lock lock(mutex_);
  std::vector<AgencySize> sizes;
  for (const auto& reference : agencies_) {
    const auto belongs = [&](const auto& one) {
      return one.second.agency == reference && one.second.bound_at && !one.second.ended_at;
    };
    sizes.push_back({reference, 0, std::count_if(accounts_.begin(), accounts_.end(), belongs)});
  }
  return sizes;
}

void MemoryAccessStore::invite(const StoredAccount& account, const StoredInvitation& invitation,
                               const std::string& code_hash) {
  const Lock lock(mutex_);
  accounts_.emplace(account.id, account);
  invitations_[invitation.id] = {invitation, code_hash};
}

MemoryAccessStore::Kept* MemoryAccessStore::by_code(const std::string& code_hash) {
  for (auto& [id, kept] : invitations_) {
    if (kept.code_hash == code_hash) return &kept;
  }
  return nullptr;
}

std::optional<InvitationRow> MemoryAccessStore::invitation(const std::string& code_hash) {
  const Lock lock(mutex_);
  const Kept* found = by_code(code_hash);
  if (found == nullptr) return std::nullopt;
  return InvitationRow{found->invitation, accounts_.at(found->invitation.account)};
}

std::vector<InvitationRow> MemoryAccessStore::invitations(const std::string& agency, const std::string& household,
                                                          Instant now) {
  const Lock lock(mutex_);
  std::vector<InvitationRow> open;
  for (const auto& [id, kept] : invitations_) {
    const StoredAccount& account = accounts_.at(kept.invitation.account);
    const bool belongs = account.agency == agency && (household.empty() || account.household == household);
    if (belongs && !kept.invitation.used_at && kept.invitation.expires_at > now) {
      open.push_back({kept.invitation, account});
    }
  }
  std::stable_sort(open.begin(), open.end(), [](const InvitationRow& one, const InvitationRow& other) {
    return one.invitation.created_at > other.invitation.created_at;
  });
  return open;
}

bool MemoryAccessStore::withdraw(const std::string& invitation, const Done& done) {
  const Lock lock(mutex_);
  const auto found = invitations_.find(invitation);
  if (found == invitations_.end()) return false;
  StoredInvitation& kept = found->second.invitation;
  if (kept.used_at || kept.expires_at <= done.at) return false;
  kept.used_at = done.at;
  return true;
}

std::optional<SessionRow> MemoryAccessStore::accept(const std::string& code_hash, const Acceptance& acceptance,
                                                    Instant at) {
  const Lock lock(mutex_);
  Kept* found = by_code(code_hash);
  if (found == nullptr || found->invitation.used_at || found->invitation.expires_at <= at) return std::nullopt;
  StoredAccount& account = accounts_.at(found->invitation.account);
  if (account.ended_at) return std::nullopt;
  found->invitation.used_at = at;
  if (!account.bound_at) account.bound_at = at;
  if (!acceptance.label.empty()) account.label = acceptance.label;
  if (acceptance.passkey) {
    end_keys(account.id, "new-passkey", at);
    passkeys_[acceptance.passkey->credential] = *acceptance.passkey;
  }
  for (const auto& code : acceptance.recovery_codes) codes_[code.selector] = code;
  auto session = acceptance.session;
  session.account = account.id;
  return insert(session);
}

std::optional<SessionRow> MemoryAccessStore::insert(StoredSession session) {
  const auto owner = accounts_.find(session.account);
  if (owner == accounts_.end() || owner->second.ended_at) return std::nullopt;
  session.changed = ++version_;
  sessions_[session.id] = session;
  return SessionRow{session, owner->second};
}

std::optional<SessionRow> MemoryAccessStore::open_session(const StoredSession& session, Instant) {
  const Lock lock(mutex_);
  return insert(session);
}

std::int64_t MemoryAccessStore::rotate(const StoredSession& session) {
  const Lock lock(mutex_);
  const auto found = sessions_.find(session.id);
  if (found == sessions_.end() || found->second.ended_at) return 0;
  found->second.token_hash = session.token_hash;
  found->second.previous_hash = session.previous_hash;
  found->second.previous_until = std::nullopt;
  found->second.rotated_at = session.rotated_at;
  found->second.last_seen_at = session.last_seen_at;
  found->second.expires_at = session.expires_at;
  return found->second.changed = ++version_;
}

void MemoryAccessStore::note_seen(const std::vector<Seen>& seen) {
  const Lock lock(mutex_);
  for (const Seen& one : seen) {
    const auto found = sessions_.find(one.session);
    if (found == sessions_.end()) continue;
    found->second.last_seen_at = std::max(found->second.last_seen_at, one.at);
    if (!found->second.previous_until) found->second.previous_until = one.previous_until;
  }
}

std::int64_t MemoryAccessStore::remove_sessions_ended_before(Instant moment) {
  const Lock lock(mutex_);
  return static_cast<std::int64_t>(std::erase_if(
      sessions_, [&](const auto& one) { return one.second.ended_at.value_or(one.second.expires_at) < moment; }));
}

bool MemoryAccessStore::end_session(const std::string& session, const std::string& why, const Done& done) {
  const Lock lock(mutex_);
  const auto found = sessions_.find(session);
  if (found == sessions_.end() || found->second.ended_at) return false;
  found->second.ended_at = done.at;
  found->second.ended_why = why;
  found->second.changed = ++version_;
  return true;
}

std::vector<SessionRow> MemoryAccessStore::sessions_changed_since(std::int64_t changed) {
  const Lock lock(mutex_);
  std::vector<SessionRow> rows;
  for (const auto& [id, session] : sessions_) {
    if (session.changed > changed) rows.push_back({session, accounts_.at(session.account)});
  }
  std::sort(rows.begin(), rows.end(),
            [](const SessionRow& one, const SessionRow& other) { return one.session.changed < other.session.changed; });
  return rows;
}

std::vector<StoredSession> MemoryAccessStore::sessions_of(const std::string& account, Instant now) {
  const Lock lock(mutex_);
  std::vector<StoredSession> live;
  for (const auto& [id, session] : sessions_) {
    if (session.account == account && !session.ended_at && session.expires_at > now) live.push_back(session);
  }
  return live;
}

std::optional<StoredAccount> MemoryAccessStore::account(const std::string& id) {
  const Lock lock(mutex_);
  const auto found = accounts_.find(id);
  if (found == accounts_.end()) return std::nullopt;
  return found->second;
}

std::vector<AccountRow> MemoryAccessStore::accounts(const std::string& agency, const std::string& household) {
  const Lock lock(mutex_);
  std::vector<AccountRow> rows;
  for (const auto& [id, account] : accounts_) {
    if (account.agency != agency || account.household != household || !account.bound_at || account.ended_at) continue;
    AccountRow row{account, std::nullopt};
    for (const auto& [session_id, session] : sessions_) {
      if (session.account == id)
        row.last_seen_at = std::max(row.last_seen_at.value_or(Instant{}), session.last_seen_at);
    }
    rows.push_back(std::move(row));
  }
  std::stable_sort(rows.begin(), rows.end(), [](const AccountRow& one, const AccountRow& other) {
    return *one.account.bound_at < *other.account.bound_at;
  });
  return rows;
}

bool MemoryAccessStore::end(const std::string& id, const std::string& why, Instant at) {
  const auto found = accounts_.find(id);
  if (found == accounts_.end() || found->second.ended_at) return false;
  found->second.ended_at = at;
  found->second.ended_why = why;
  for (auto& [invitation_id, kept] : invitations_) {
    if (kept.invitation.account == id && !kept.invitation.used_at) kept.invitation.used_at = at;
  }
  end_keys(id, why, at);
  return true;
}

void MemoryAccessStore::end_keys(const std::string& account, const std::string& why, Instant at) {
  ++version_;
  for (auto& [id, session] : sessions_) {
    if (session.account != account || session.ended_at) continue;
    session.ended_at = at;
    session.ended_why = why;
    session.changed = version_;
  }
  std::erase_if(passkeys_, [&](const auto& one) { return one.second.account == account; });
  for (auto& [selector, code] : codes_) {
    if (code.account == account && !code.used_at) code.used_at = at;
  }
}

bool MemoryAccessStore::end_account(const std::string& id, const std::string& why, const Done& done) {
  const Lock lock(mutex_);
  return end(id, why, done.at);
}

void MemoryAccessStore::add_passkey(const StoredPasskey& passkey, const Done&) {
  const Lock lock(mutex_);
  passkeys_[passkey.credential] = passkey;
}

std::optional<StoredPasskey> MemoryAccessStore::passkey(const std::string& credential) {
  const Lock lock(mutex_);
  const auto found = passkeys_.find(credential);
  if (found == passkeys_.end()) return std::nullopt;
  return found->second;
}

std::vector<StoredPasskey> MemoryAccessStore::passkeys(const std::string& account) {
  const Lock lock(mutex_);
  std::vector<StoredPasskey> found;
  for (const auto& [credential, passkey] : passkeys_) {
    if (passkey.account == account) found.push_back(passkey);
  }
  return found;
}

void MemoryAccessStore::passkey_used(const StoredPasskey& passkey, Instant at) {
  const Lock lock(mutex_);
  const auto found = passkeys_.find(passkey.credential);
  if (found == passkeys_.end()) return;
  found->second.sign_count = passkey.sign_count;
  found->second.user_verified = passkey.user_verified;
  found->second.backed_up = passkey.backed_up;
  found->second.last_used_at = at;
}

void MemoryAccessStore::replace_recovery_codes(const std::string& account, const std::string& household,
                                               const std::vector<StoredRecoveryCode>& codes, const Done& done) {
  const Lock lock(mutex_);
  for (auto& [selector, code] : codes_) {
    if (code.account == account && code.household == household && !code.used_at) code.used_at = done.at;
  }
  for (const auto& code : codes) codes_[code.selector] = code;
  if (const auto by = accounts_.find(done.by); by != accounts_.end()) by->second.recovery_used_at = std::nullopt;
  ++version_;
  for (auto& [id, session] : sessions_) {
    if (session.account == done.by && !session.ended_at) session.changed = version_;
  }
}

std::optional<StoredRecoveryCode> MemoryAccessStore::recovery_code(const std::string& selector) {
  const Lock lock(mutex_);
  const auto found = codes_.find(selector);
  if (found == codes_.end() || found->second.used_at) return std::nullopt;
  return found->second;
}

bool MemoryAccessStore::use_up(const std::string& selector, Instant at) {
  const auto found = codes_.find(selector);
  if (found == codes_.end() || found->second.used_at) return false;
  found->second.used_at = at;
  return true;
}

std::optional<SessionRow> MemoryAccessStore::recover(const std::string& selector, const StoredSession& session,
                                                     Instant at) {
  const Lock lock(mutex_);
  if (!use_up(selector, at)) return std::nullopt;
  if (const auto owner = accounts_.find(session.account); owner != accounts_.end()) owner->second.recovery_used_at = at;
  return insert(session);
}

std::optional<SessionRow> MemoryAccessStore::recover_household(const std::string& selector, const StoredAccount& phone,
                                                               const StoredSession& session, Instant at) {
  const Lock lock(mutex_);
  if (!use_up(selector, at)) return std::nullopt;
  for (const auto& [id, account] : accounts_) {
    if (account.household == phone.household) end(id, "sealed-code", at);
  }
  accounts_[phone.id] = phone;
  return insert(session);
}

void MemoryAccessStore::erase_phones(const std::string& household, Instant at) {
  const Lock lock(mutex_);
  for (auto& [id, account] : accounts_) {
    if (account.household != household) continue;
    end(id, "erased", at);
    account.label = account.household = account.agency = "";
  }
  std::erase_if(codes_, [&](const auto& one) { return one.second.household == household; });
}

std::optional<std::string> MemoryAccessStore::note(const std::string& name) {
  const Lock lock(mutex_);
  const auto found = notes_.find(name);
  if (found == notes_.end()) return std::nullopt;
  return found->second;
}

void MemoryAccessStore::set_note(const std::string& name, const std::string& value) {
  const Lock lock(mutex_);
  notes_[name] = value;
}

}  // namespace cellarer::store
