// SPDX-License-Identifier: MIT
#include "server/access/invitations.hpp"

#include "server/access/lifetimes.hpp"
#include "server/access/secrets.hpp"

namespace cellarer::access {

Invited invite(store::AccessStore& store, const Wish& wish, Instant now) {
  const std::chrono::seconds good_for = is_phone(wish.role) ? std::chrono::seconds(phone_invitation) : staff_invitation;
  store::StoredAccount account;
  account.id = wish.account ? *wish.account : new_account_id();
  account.agency = wish.agency;
  account.household = wish.household_key;
  account.role = name_of(wish.role);
  account.label = wish.label;
  if (wish.hours) account.hours = store::StoredAccount::Hours{wish.hours->from_min, wish.hours->to_min};
  account.zone = wish.zone;
  account.until = wish.until;
  account.created_at = now;
  store::StoredInvitation invitation;
  invitation.id = random_token(16);
  invitation.account = account.id;
  invitation.invited_by = wish.invited_by;
  invitation.without_passkey = wish.without_passkey;
  invitation.created_at = now;
  invitation.expires_at = now + good_for;
  const auto code = random_token(20);
  store.invite(account, invitation, sha256(code));
  return {invitation.id, account.id, code, invitation.expires_at};
}

std::string invitation_link(const std::string& public_address, const std::string& code) {
  return public_address + "/in#" + code;
}

}  // namespace cellarer::access
