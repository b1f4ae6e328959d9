// SPDX-License-Identifier: MIT
#include "server/access/sessions.hpp"

#include "server/access/guest_hours.hpp"
#include "server/access/lifetimes.hpp"
#include "server/access/secrets.hpp"

namespace cellarer::access {

using store::SessionRow;
using store::StoredSession;

namespace {

constexpr auto told_every = std::chrono::seconds(60);

/// A clock that is not to be had opens no hours.
Zone zone_named(const std::string& name) {
  if (name.empty()) return nullptr;
  try {
    return date::locate_zone(name);
  } catch (const std::exception&) {
    return nullptr;
  }
}

Standing ended(const std::string& why, Instant at) {
  Standing standing;
  standing.is = Standing::Is::ended;
  standing.ended_why = why;
  standing.ended_at = at;
  return standing;
}

}  // namespace

Sessions::Sessions(store::AccessStore& store, const Clock& clock) : store_(store), clock_(clock) { heed_changes(); }

Principal Sessions::principal_of(const SessionRow& row) {
  Principal principal;
  principal.account = row.account.id;
  principal.agency = row.account.agency;
  principal.household_key = row.account.household;
  principal.role = role_named(row.account.role).value_or(Role::guest);
  principal.label = row.account.label;
  principal.session = row.session.id;
  principal.signed_in_at = row.session.signed_in_at;
  if (row.account.hours) principal.hours = Hours{row.account.hours->from_min, row.account.hours->to_min};
  principal.zone = zone_named(row.account.zone);
  principal.until = row.account.until;
  principal.recovery_used_at = row.account.recovery_used_at;
  return principal;
}

Standing Sessions::check(const std::string& token) {
  const auto hash = sha256(token);
  const Instant now = clock_.now();
  const std::lock_guard lock(mutex_);
  const auto found = by_hash_.find(hash);
  if (found == by_hash_.end()) return {};
  Entry& entry = *found->second;
  StoredSession& session = entry.row.session;
  if (session.ended_at) return ended(session.ended_why, *session.ended_at);
  const bool is_previous = hash == session.previous_hash;
  if (is_previous && session.previous_until && now >= *session.previous_until) return {};
  if (now >= session.expires_at) return ended("over", session.expires_at);
  if (entry.principal.until && now >= *entry.principal.until) return ended("over", *entry.principal.until);
  const auto age = now - session.rotated_at;
  Standing standing;
  standing.is = Standing::Is::live;
  standing.principal = entry.principal;
  standing.rotation_due = is_previous ? !session.previous_until && age >= rotation_retried : age >= rotation;
  const Principal& who = entry.principal;
  standing.outside_hours = who.hours && (who.zone == nullptr || !within(*who.hours, who.zone, now));
  if (!is_previous && !session.previous_hash.empty() && !session.previous_until) {
    session.previous_until = now + previous_token;
  }
  session.last_seen_at = std::max(session.last_seen_at, now);
  entry.to_tell = true;
  return standing;
}

std::pair<StoredSession, Token> Sessions::draw(const std::string& account, Role role, Instant now) {
  const std::chrono::seconds good_for = is_phone(role) ? std::chrono::seconds(phone_unused) : staff_session;
  StoredSession session;
  session.id = random_token(16);
  session.account = account;
  Token token{random_token(32), good_for};
  session.token_hash = sha256(token.text);
  session.signed_in_at = session.rotated_at = session.last_seen_at = now;
  session.expires_at = now + good_for;
  return {std::move(session), std::move(token)};
}

std::optional<Principal> Sessions::owner(const std::string& session) {
  const std::lock_guard lock(mutex_);
  const auto found = by_id_.find(session);
  if (found == by_id_.end() || found->second->row.session.ended_at) return std::nullopt;
  return found->second->principal;
}

void Sessions::heed(const SessionRow& row) {
  const std::lock_guard lock(mutex_);
  put(row);
}

/// What is newer wins: a refresh may bring what a rotation has just outdated.
void Sessions::put(const SessionRow& row) {
  const auto before = by_id_.find(row.session.id);
  auto entry = std::make_shared<Entry>(Entry{row, principal_of(row)});
  if (before != by_id_.end()) {
    const Entry& old = *before->second;
    if (old.row.session.changed > row.session.changed) return;
    StoredSession& session = entry->row.session;
    session.last_seen_at = std::max(session.last_seen_at, old.row.session.last_seen_at);
    if (session.previous_hash == old.row.session.previous_hash && !session.previous_until) {
      session.previous_until = old.row.session.previous_until;
    }
    entry->to_tell = old.to_tell;
    forget(old);
  }
  const StoredSession& session = entry->row.session;
  if (session.ended_at && *session.ended_at + ended_remembered < clock_.now()) return;
  by_id_[session.id] = entry;
  by_hash_[session.token_hash] = entry;
  if (!session.previous_hash.empty()) by_hash_[session.previous_hash] = entry;
}

void Sessions::forget(const Entry& entry) {
  const StoredSession session = entry.row.session;  // the entry itself may go with the last of its places
  by_hash_.erase(session.token_hash);
  if (!session.previous_hash.empty()) by_hash_.erase(session.previous_hash);
  by_id_.erase(session.id);
}

std::optional<Token> Sessions::rotate(const std::string& token) {
  const std::lock_guard one_at_a_time(rotating_);
  if (!check(token).rotation_due) return std::nullopt;
  const auto hash = sha256(token);
  SessionRow row;
  {
    const std::lock_guard lock(mutex_);
    const auto found = by_hash_.find(hash);
    if (found == by_hash_.end()) return std::nullopt;
    row = found->second->row;
  }
  const Instant now = clock_.now();
  StoredSession& session = row.session;
  Token fresh{random_token(32), session.expires_at - now};
  if (!row.account.household.empty()) fresh.good_for = phone_unused;
  session.previous_hash = hash;
  session.previous_until = std::nullopt;
  session.token_hash = sha256(fresh.text);
  session.rotated_at = session.last_seen_at = now;
  session.expires_at = now + fresh.good_for;
  session.changed = store_.rotate(session);
  if (session.changed == 0) return std::nullopt;  // it has just been ended
  heed(row);
  return fresh;
}

std::vector<store::Seen> Sessions::seen(bool all) {
  const Instant now = clock_.now();
  const std::lock_guard lock(mutex_);
  std::vector<store::Seen> to_tell;
  if (!all && now - told_at_ < told_every && now >= told_at_) return to_tell;
  told_at_ = now;
  for (auto& [id, entry] : by_id_) {
    if (!entry->to_tell) continue;
    entry->to_tell = false;
    to_tell.push_back({id, entry->row.session.last_seen_at, entry->row.session.previous_until});
  }
  return to_tell;
}

void Sessions::heed_changes() {
  const std::lock_guard one_at_a_time(heeding_);
  const auto rows = store_.sessions_changed_since(heeded_);
  if (rows.empty()) return;
  const std::lock_guard lock(mutex_);
  for (const auto& row : rows) put(row);
  heeded_ = rows.back().session.changed;
}

void Sessions::refresh(bool all_seen) {
  const auto to_tell = seen(all_seen);
  if (!to_tell.empty()) store_.note_seen(to_tell);
  heed_changes();
}

}  // namespace cellarer::access
