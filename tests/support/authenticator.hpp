// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <memory>
#include <string>

#include <nlohmann/json.hpp>

/// A passkey's authenticator and its browser, for tests: makes a key and answers the options that a service gives, as
/// JSON. It shares no code with the service. Every part can be made wrong before the answer is written.
namespace cellarer::tests {

class Authenticator {
 public:
  enum class Algorithm { es256, ed25519 };

  /// For pages of `origin`, "https://example.org".
  explicit Authenticator(std::string origin, Algorithm algorithm = Algorithm::es256);
  ~Authenticator();

  /// A RegistrationResponseJSON for PublicKeyCredentialCreationOptionsJSON; remembers the user's id.
  nlohmann::json make(const nlohmann::json& creation_options);
  /// An AuthenticationResponseJSON for PublicKeyCredentialRequestOptionsJSON.
  nlohmann::json answer(const nlohmann::json& request_options);

  // What the next answer says; set before it is asked for.
  std::string origin, rp_id_in_place_of_the_options;  ///< the second: empty for the options' own
  std::string type_in_place_of_the_right_one, challenge_in_place_of_the_options;
  bool in_a_frame = false;
  std::uint8_t flags = 0x05;  ///< user present and verified (WebAuthn 6.1)
  std::uint32_t sign_count = 0;
  std::string extensions;  ///< CBOR; set bit 7 of the flags too
  std::string credential_id = std::string(16, 'c');
  std::string user_handle;

 private:
  struct Key;
  std::string authenticator_data(const std::string& rp_id, bool with_key) const;
  std::string client_data(const char* type, const nlohmann::json& options) const;
  nlohmann::json answer_with(nlohmann::json response) const;

  Algorithm algorithm_;
  std::unique_ptr<Key> key_;
};

}  // namespace cellarer::tests
