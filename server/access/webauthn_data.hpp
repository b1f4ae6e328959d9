// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

/// The two things that a passkey signs, read: what the browser says it asked for, and what the authenticator answers.
namespace cellarer::access {

/// What an authenticator says (WebAuthn Level 3, 6.1):
///   rpIdHash[32] flags[1] signCount[4, big-endian] [attested credential data] [extensions]
struct AuthenticatorData {
  std::string rp_id_hash;        ///< SHA-256 of the RP id
  bool user_present = false;     ///< UP, bit 0: someone touched it
  bool user_verified = false;    ///< UV, bit 2: by finger, face or a PIN
  bool backup_eligible = false;  ///< BE, bit 3: may be copied to the holder's other devices
  bool backed_up = false;        ///< BS, bit 4: has been
  std::uint32_t sign_count = 0;  ///< 0: this authenticator does not count
  struct Credential {            ///< AT, bit 6
    std::string id;              ///< 1 to 1023 bytes
    std::string cose_key;        ///< its public key in COSE, as it came
  };
  std::optional<Credential> credential;
};

/// Throws PasskeyRefused "malformed" where lengths do not fit, something is left over, or CBOR is not as it must be;
/// "backup-state" where a key that cannot be copied is said to have been (6.1.3). The authenticator's model (AAGUID)
/// and extensions (ED, bit 7) are passed over: nothing here asks for them.
AuthenticatorData read_authenticator_data(std::string_view bytes);

/// Checks what the browser signed (WebAuthn Level 3, 5.8.1): `type` ("webauthn.create" or "webauthn.get"), our
/// challenge (bytes), our origin, and that the page stood in no frame of another site. Further members are passed over,
/// as 5.8.1.1 wants. Throws PasskeyRefused "malformed", "wrong-type", "wrong-challenge", "wrong-origin" or
/// "cross-origin".
void check_client_data(std::string_view client_data_json, const char* type, std::string_view challenge,
                       const std::string& origin);

}  // namespace cellarer::access
