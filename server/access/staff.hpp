// SPDX-License-Identifier: MIT
#pragma once
#include "server/access/access_service.hpp"
#include "server/access/challenges.hpp"
#include "server/access/passkey.hpp"

/// How staff come in: by passkey, made when the invitation is accepted, and by a printed recovery code where the device
/// is gone.
namespace cellarer::access {

class Staff {
 public:
  explicit Staff(AccessService& access) : access_(access), challenges_(access.clock()) {}

  /// What the browser makes a passkey with: for an open invitation, or for an account that is signed in. Throws
  /// `invitation-used-or-over`.
  nlohmann::json options_for_invitation(const std::string& code);
  nlohmann::json options_for_account(const Principal& principal);

  struct Bound {
    AccessService::Opened opened;
    std::vector<std::string> recovery_codes;  ///< as printed, once
  };
  /// The passkey that was made for an invitation: binds the account. Throws `invitation-used-or-over`, or
  /// `json::Refused` for a credential that is not right.
  Bound bind(const std::string& code, const json::Field& credential);
  /// A further passkey.
  void add_passkey(const Principal& principal, const json::Field& credential);

  struct SignIn {
    std::string challenge_id;
    nlohmann::json options;
  };
  SignIn options_for_sign_in();
  /// Throws `not-signed-in`.
  AccessService::Opened sign_in(const std::string& challenge_id, const json::Field& credential);

 private:
  RelyingParty us() const;
  store::StoredPasskey registered(const std::string& account, const std::string& purpose,
                                  const json::Field& credential);

  AccessService& access_;
  Challenges challenges_;
};

/// "https://cells.example.org:8443": the origin, and the host as what passkeys are bound to.
RelyingParty relying_party(const std::string& public_address);

}  // namespace cellarer::access
