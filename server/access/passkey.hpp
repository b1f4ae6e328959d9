// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "server/json/field.hpp"

/// Passkeys: the server's half of W3C Web Authentication Level 3, pure. Challenges are drawn (random_token) and used
/// once by whoever calls this, and what a registration answers is stored by them.
namespace cellarer::access {

/// Why an answer is not taken. `code` is stable: "malformed", "wrong-type", "wrong-challenge", "wrong-origin",
/// "cross-origin", "wrong-site", "no-one-present", "backup-state", "no-key", "unsupported-key", "malformed-key",
/// "other-passkey", "other-account", "wrong-signature", "counter-went-back". Members of the JSON that are missing or of
/// the wrong form are json::Refused with their place, as in every body.
class PasskeyRefused : public std::runtime_error {
 public:
  PasskeyRefused(std::string code, const std::string& reason) : std::runtime_error(reason), code_(std::move(code)) {}
  const std::string& code() const { return code_; }

 private:
  std::string code_;
};

/// Us, as the browser sees us.
struct RelyingParty {
  std::string id;      ///< host of the public address, without port: "homes.example"; for loopback "localhost"
  std::string origin;  ///< "https://homes.example", with a port where it is not the scheme's own
  std::string name = "Cellarer";
};

/// Whom a passkey is for.
struct PasskeyUser {
  std::string account;  ///< the account's id in base64url: what the browser gives back as userHandle
  std::string label;    ///< what the browser shows in its list; never a name
};

/// One passkey, as it is stored.
struct Passkey {
  std::string credential_id;     ///< bytes, 1 to 1023
  std::string cose_key;          ///< its public key in COSE, as it came
  std::uint32_t sign_count = 0;  ///< of the last use; 0: does not count
  bool user_verified = false;    ///< by finger, face or PIN, at the last use
  bool backup_eligible = false;  ///< may be on several devices of its holder; never changes
  bool backed_up = false;        ///< at the last use
};

/// PublicKeyCredentialCreationOptionsJSON. `challenge` is base64url of 32 random bytes; `present` are the account's
/// passkeys, so that one authenticator is not registered twice.
nlohmann::json creation_options(const RelyingParty& us, const PasskeyUser& user, const std::string& challenge,
                                const std::vector<Passkey>& present = {});
/// PublicKeyCredentialRequestOptionsJSON for a discoverable passkey: whoever signs in is not named before.
nlohmann::json request_options(const RelyingParty& us, const std::string& challenge);

/// Checks a RegistrationResponseJSON (WebAuthn 7.1) against the challenge that was given out (base64url) and answers
/// what is to be stored. Attestation: none is asked for, and a statement that comes all the same is passed over unread,
/// so it vouches for nothing. That the credential id is new is the store's to check (7.1, step 26).
Passkey check_registration(const RelyingParty& us, const std::string& challenge, const json::Field& credential);

/// The credential id that an AuthenticationResponseJSON names: find its passkey by it, then check.
std::string credential_id_of(const json::Field& credential);

/// Checks an AuthenticationResponseJSON (WebAuthn 7.2) against the challenge and the stored passkey of `account`;
/// answers the passkey as it is to be stored from now on. The signature is over authenticatorData || SHA-256 of
/// clientDataJSON. A counter that does not go forward is refused: two devices hold the same key, and perhaps
/// only one of them by right. Passkeys that browsers keep do not count (0 and 0), and pass.
Passkey check_assertion(const RelyingParty& us, const std::string& challenge, const Passkey& stored,
                        const std::string& account, const json::Field& credential);

}  // namespace cellarer::access
