// SPDX-License-Identifier: MIT
#include "server/access/access_service.hpp"

#include "server/access/secrets.hpp"
#include "server/access/staff.hpp"
#include "server/household_key.hpp"

namespace cellarer::access {

namespace {

[[noreturn]] void used_or_over() {
  throw Problem(ProblemCode::invitation_used_or_over,
                "This invitation was used, taken back, or has run out. Ask for a new one: it takes a minute.");
}

}  // namespace

AccessService::AccessService(store::AccessStore& store, const Clock& clock)
    : store_(store), clock_(clock), sessions_(store, clock), throttle_(clock), staff_(std::make_unique<Staff>(*this)) {}

AccessService::~AccessService() = default;

void AccessService::serve_at(const std::string& public_address) {
  public_address_ = public_address;
  if (store_.note("public_address") != public_address) store_.set_note("public_address", public_address);
}

store::InvitationRow AccessService::open_invitation(const std::string& code) {
  auto found = store_.invitation(sha256(code));
  const bool open =
      found && !found->invitation.used_at && found->invitation.expires_at > clock_.now() && !found->account.ended_at;
  if (!open) used_or_over();
  return *found;
}

bool AccessService::needs_passkey(const store::InvitationRow& row) {
  return row.account.household.empty() && !row.invitation.without_passkey;
}

AccessService::Opened AccessService::taken_up(const store::SessionRow& row, Token token) {
  sessions_.heed(row);
  return {Sessions::principal_of(row), std::move(token)};
}

AccessService::Opened AccessService::accept(const std::string& code, const std::string& label) {
  const auto found = open_invitation(code);
  if (needs_passkey(found)) throw Problem(ProblemCode::not_allowed, "Staff make a passkey first.");
  const Role role = role_named(found.account.role).value_or(Role::guest);
  auto [session, token] = Sessions::draw(found.account.id, role, clock_.now());
  const auto row = store_.accept(sha256(code), {label, session}, clock_.now());
  if (!row) used_or_over();
  return taken_up(*row, std::move(token));
}

AccessService::Opened AccessService::bind_staff(const std::string& code, const store::StoredPasskey& passkey,
                                                const std::vector<store::StoredRecoveryCode>& recovery_codes) {
  const auto account = open_invitation(code).account;
  auto [session, token] = Sessions::draw(account.id, role_named(account.role).value_or(Role::guest), clock_.now());
  const auto row = store_.accept(sha256(code), {"", session, passkey, recovery_codes}, clock_.now());
  if (!row) used_or_over();
  sessions_.heed_changes();
  return taken_up(*row, std::move(token));
}

AccessService::Opened AccessService::open_session(const std::string& account) {
  auto [session, token] = Sessions::draw(account, Role::administrator, clock_.now());
  const auto row = store_.open_session(session, clock_.now());
  if (!row) throw Problem(ProblemCode::not_signed_in, "This account has ended. Ask the agency for an invitation.");
  return taken_up(*row, std::move(token));
}

std::optional<AccessService::Opened> AccessService::recover_staff(const store::StoredRecoveryCode& code) {
  auto [session, token] = Sessions::draw(code.account, Role::administrator, clock_.now());
  const auto row = store_.recover(code.selector, session, clock_.now());
  if (!row) return std::nullopt;
  sessions_.heed_changes();
  return taken_up(*row, std::move(token));
}

std::optional<AccessService::Opened> AccessService::recover_household(const store::StoredRecoveryCode& code) {
  const Instant now = clock_.now();
  store::StoredAccount phone;
  phone.id = new_account_id();
  phone.agency = agency_of(code.household);
  phone.household = code.household;
  phone.role = name_of(Role::household);
  phone.label = "By recovery code";
  phone.created_at = now;
  phone.bound_at = phone.recovery_used_at = now;
  auto [session, token] = Sessions::draw(phone.id, Role::household, now);
  const auto row = store_.recover_household(code.selector, phone, session, now);
  if (!row) return std::nullopt;
  sessions_.heed_changes();
  return taken_up(*row, std::move(token));
}

bool AccessService::end_session(const std::string& session, const std::string& why, const std::string& by) {
  const bool ended = store_.end_session(session, why, {by, clock_.now()});
  sessions_.heed_changes();
  return ended;
}

bool AccessService::end_account(const std::string& account, const std::string& why, const std::string& by) {
  const bool ended = store_.end_account(account, why, {by, clock_.now()});
  sessions_.heed_changes();
  return ended;
}

std::optional<std::string> first_administrator_link(AccessService& access) {
  const std::string agency = "agency";  // of the first migration
  if (!access.store().accounts(agency, "").empty()) return std::nullopt;
  Wish wish;
  wish.role = Role::administrator;
  wish.agency = agency;
  wish.label = "First administrator";
  const auto invited = invite(access.store(), wish, access.clock().now());
  return invitation_link(access.public_address(), invited.code);
}

}  // namespace cellarer::access
