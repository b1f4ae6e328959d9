// SPDX-License-Identifier: MIT
#include "server/access/staff.hpp"

#include "server/access/recovery.hpp"
#include "server/access/secrets.hpp"

namespace cellarer::access {

using cellarer::json::Field;
using store::StoredPasskey;

namespace {

Passkey passkey_of(const StoredPasskey& stored) {
  return {stored.credential,    stored.cose_key,        static_cast<std::uint32_t>(stored.sign_count),
          stored.user_verified, stored.backup_eligible, stored.backed_up};
}

StoredPasskey stored_of(const Passkey& passkey, const std::string& account, Instant created_at) {
  return {passkey.credential_id,   account,           passkey.cose_key, passkey.sign_count, passkey.user_verified,
          passkey.backup_eligible, passkey.backed_up, created_at};
}

std::string for_invitation(const std::string& code) { return "invitation " + sha256(code); }
std::string for_account(const std::string& account) { return "account " + account; }

/// The challenge that the browser says it was given; whether we gave it, its proof tells.
std::string said_challenge(const Field& credential) {
  const Field field = credential["response"]["clientDataJSON"];
  const auto bytes = from_base64url(field.text(8192));
  if (!bytes) field.refuse("out-of-range", "expected base64url");
  const auto document = cellarer::json::parse(*bytes);
  return Field(document, field.place())["challenge"].text(200);
}

[[noreturn]] void refuse_challenge(const Field& credential) {
  credential.refuse("out-of-range", "answers no question that is open: begin again");
}

}  // namespace

RelyingParty relying_party(const std::string& public_address) {
  const auto scheme = public_address.find("://");
  auto host = scheme == std::string::npos ? public_address : public_address.substr(scheme + 3);
  const auto port = host.rfind(':');
  if (port != std::string::npos && host.find(']', port) == std::string::npos) host.resize(port);
  return {host, public_address};
}

RelyingParty Staff::us() const { return relying_party(access_.public_address()); }

nlohmann::json Staff::options_for_invitation(const std::string& code) {
  const auto account = access_.open_invitation(code).account;
  return creation_options(us(), {account.id, account.label}, challenges_.issue(for_invitation(code)));
}

nlohmann::json Staff::options_for_account(const Principal& principal) {
  std::vector<Passkey> present;
  for (const auto& stored : access_.store().passkeys(principal.account)) present.push_back(passkey_of(stored));
  return creation_options(us(), {principal.account, principal.label}, challenges_.issue(for_account(principal.account)),
                          present);
}

StoredPasskey Staff::registered(const std::string& account, const std::string& purpose, const Field& credential) {
  const auto challenge = said_challenge(credential);
  if (!challenges_.take(challenge, purpose)) refuse_challenge(credential);
  try {
    const auto passkey = check_registration(us(), challenge, credential);
    if (access_.store().passkey(passkey.credential_id)) {
      throw PasskeyRefused("other-account", "this passkey belongs to an account already");
    }
    return stored_of(passkey, account, access_.clock().now());
  } catch (const PasskeyRefused& refused) {
    credential.refuse("out-of-range", std::string("is not taken (") + refused.code() + "): " + refused.what());
  }
}

Staff::Bound Staff::bind(const std::string& code, const Field& credential) {
  const auto invitation = access_.open_invitation(code);
  const auto& account = invitation.account.id;
  const auto passkey = registered(account, for_invitation(code), credential);
  const auto codes = draw_recovery_codes(access_, account);
  return {access_.bind_staff(code, passkey, codes.stored), codes.printed};
}

void Staff::add_passkey(const Principal& principal, const Field& credential) {
  const auto passkey = registered(principal.account, for_account(principal.account), credential);
  access_.store().add_passkey(passkey, {principal.account, access_.clock().now()});
}

Staff::SignIn Staff::options_for_sign_in() {
  const auto challenge = challenges_.issue("sign-in");
  return {challenge, request_options(us(), challenge)};
}

AccessService::Opened Staff::sign_in(const std::string& challenge_id, const Field& credential) {
  if (!challenges_.take(challenge_id, "sign-in")) refuse_challenge(credential);
  const auto stored = access_.store().passkey(credential_id_of(credential));
  try {
    if (!stored) throw PasskeyRefused("other-passkey", "it is not known here");
    const auto used = check_assertion(us(), challenge_id, passkey_of(*stored), stored->account, credential);
    const Instant now = access_.clock().now();
    access_.store().passkey_used(stored_of(used, stored->account, stored->created_at), now);
    return access_.open_session(stored->account);
  } catch (const PasskeyRefused& refused) {
    Problem problem(ProblemCode::not_signed_in, std::string("This passkey was not taken: ") + refused.what() + ".");
    problem.more["passkey"] = refused.code();
    throw problem;
  }
}

}  // namespace cellarer::access
