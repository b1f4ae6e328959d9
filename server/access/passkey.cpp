// SPDX-License-Identifier: MIT
#include "server/access/passkey.hpp"

#include "server/access/cbor.hpp"
#include "server/access/secrets.hpp"
#include "server/access/webauthn_data.hpp"
#include "server/access/webauthn_key.hpp"

namespace cellarer::access {

using Document = nlohmann::json;

namespace {

constexpr std::size_t longest_part =
    16'384;  ///< letters; a "none" attestation has some 300, a certificate chain thousands
constexpr int minutes_to_answer = 5;

std::string bytes_of(const json::Field& field) {
  auto bytes = from_base64url(field.text(longest_part));
  if (!bytes) field.refuse("not-base64url", "expected base64url without padding");
  return *bytes;
}

/// The parts that both answers share: type, id, rawId.
std::string checked_id(const json::Field& credential) {
  credential["type"].word({"public-key"});
  const std::string id = bytes_of(credential["id"]);
  if (bytes_of(credential["rawId"]) != id) credential["rawId"].refuse("out-of-range", "must be the same as id");
  return id;
}

std::string challenge_bytes(const std::string& challenge) {
  const auto bytes = from_base64url(challenge);
  if (!bytes || bytes->size() < 16) throw std::logic_error("a challenge is base64url of 16 bytes at least");
  return *bytes;
}

void check_ours(const RelyingParty& us, const AuthenticatorData& data) {
  if (!same_secret(data.rp_id_hash, sha256(us.id))) {
    throw PasskeyRefused("wrong-site", "the passkey was used for another site than " + us.id);
  }
  if (!data.user_present) throw PasskeyRefused("no-one-present", "nobody confirmed at the authenticator");
}

/// The authenticator's data within an attestation object (WebAuthn 6.5): {"fmt": text, "attStmt": map, "authData":
/// bytes}.
AuthenticatorData attested(std::string_view attestation_object) {
  cbor::Item object;
  try {
    object = cbor::read(attestation_object);
  } catch (const cbor::Malformed& error) {
    throw PasskeyRefused("malformed", error.what());
  }
  const auto* format = cbor::find(object, "fmt");
  const auto* statement = cbor::find(object, "attStmt");
  const auto* data = cbor::find(object, "authData");
  if (format == nullptr || format->kind != cbor::Kind::text || statement == nullptr ||
      statement->kind != cbor::Kind::map || data == nullptr || data->kind != cbor::Kind::bytes) {
    throw PasskeyRefused("malformed", "the attestation object lacks fmt, attStmt or authData");
  }
  if (format->content == "none" && !statement->elements.empty()) {
    throw PasskeyRefused("malformed", "an attestation of format none says something");
  }
  return read_authenticator_data(data->content);
}

Document descriptor(const Passkey& passkey) {
  return {{"type", "public-key"}, {"id", base64url(passkey.credential_id)}};
}

}  // namespace

Document creation_options(const RelyingParty& us, const PasskeyUser& user, const std::string& challenge,
                          const std::vector<Passkey>& present) {
  Document parameters = Document::array();
  for (const auto algorithm : {KeyAlgorithm::ed25519, KeyAlgorithm::es256}) {
    parameters.push_back({{"type", "public-key"}, {"alg", static_cast<int>(algorithm)}});
  }
  Document excluded = Document::array();
  for (const auto& passkey : present) excluded.push_back(descriptor(passkey));
  return {{"rp", {{"id", us.id}, {"name", us.name}}},
          {"user", {{"id", user.account}, {"name", user.label}, {"displayName", user.label}}},
          {"challenge", challenge},
          {"pubKeyCredParams", parameters},
          {"timeout", minutes_to_answer * 60'000},
          {"excludeCredentials", excluded},
          {"authenticatorSelection",
           {{"residentKey", "required"}, {"requireResidentKey", true}, {"userVerification", "preferred"}}},
          {"attestation", "none"}};
}

Document request_options(const RelyingParty& us, const std::string& challenge) {
  return {{"challenge", challenge},
          {"rpId", us.id},
          {"timeout", minutes_to_answer * 60'000},
          {"allowCredentials", Document::array()},
          {"userVerification", "preferred"}};
}

Passkey check_registration(const RelyingParty& us, const std::string& challenge, const json::Field& credential) {
  const std::string id = checked_id(credential);
  const auto response = credential["response"];
  check_client_data(bytes_of(response["clientDataJSON"]), "webauthn.create", challenge_bytes(challenge), us.origin);
  const auto data = attested(bytes_of(response["attestationObject"]));
  check_ours(us, data);
  if (!data.credential) throw PasskeyRefused("no-key", "the authenticator made no passkey");
  if (data.credential->id != id)
    throw PasskeyRefused("other-passkey", "the answer names another passkey than it holds");
  read_public_key(cbor::read(data.credential->cose_key));
  return {id, data.credential->cose_key, data.sign_count, data.user_verified, data.backup_eligible, data.backed_up};
}

std::string credential_id_of(const json::Field& credential) { return checked_id(credential); }

Passkey check_assertion(const RelyingParty& us, const std::string& challenge, const Passkey& stored,
                        const std::string& account, const json::Field& credential) {
  if (checked_id(credential) != stored.credential_id) throw PasskeyRefused("other-passkey", "another passkey answered");
  const auto response = credential["response"];
  // 7.2, step 6: whoever is not named before must say whose passkey it is.
  if (response["userHandle"].text() != account)
    throw PasskeyRefused("other-account", "the passkey is another account's");
  const std::string client_data = bytes_of(response["clientDataJSON"]);
  check_client_data(client_data, "webauthn.get", challenge_bytes(challenge), us.origin);
  const std::string signed_data = bytes_of(response["authenticatorData"]);
  const auto data = read_authenticator_data(signed_data);
  check_ours(us, data);
  if (data.backup_eligible != stored.backup_eligible) {
    throw PasskeyRefused("backup-state", "whether the passkey can be copied has changed, which cannot be");
  }
  const auto key = read_public_key(cbor::read(stored.cose_key));
  if (!signature_fits(key, signed_data + sha256(client_data), bytes_of(response["signature"]))) {
    throw PasskeyRefused("wrong-signature", "the signature was not made by this passkey");
  }
  const bool counts = data.sign_count != 0 || stored.sign_count != 0;
  if (counts && data.sign_count <= stored.sign_count) {
    throw PasskeyRefused("counter-went-back", "the passkey was used before now by a copy of it: register a new one");
  }
  return {stored.credential_id, stored.cose_key,      data.sign_count,
          data.user_verified,   data.backup_eligible, data.backed_up};
}

}  // namespace cellarer::access
