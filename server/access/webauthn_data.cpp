// SPDX-License-Identifier: MIT
#include "server/access/webauthn_data.hpp"

#include "server/access/cbor.hpp"
#include "server/access/passkey.hpp"
#include "server/access/secrets.hpp"
#include "server/json/field.hpp"

namespace cellarer::access {

namespace {

constexpr unsigned present_flag = 1U << 0, verified_flag = 1U << 2, eligible_flag = 1U << 3, backed_up_flag = 1U << 4,
                   credential_flag = 1U << 6, extensions_flag = 1U << 7;

[[noreturn]] void malformed(const std::string& reason) { throw PasskeyRefused("malformed", reason); }

std::string_view take(std::string_view& bytes, std::size_t count) {
  if (bytes.size() < count) malformed("the authenticator's data ends too early");
  const auto taken = bytes.substr(0, count);
  bytes.remove_prefix(count);
  return taken;
}

std::uint32_t big_endian(std::string_view bytes) {
  std::uint32_t value = 0;
  for (const char byte : bytes) value = value << 8 | static_cast<unsigned char>(byte);
  return value;
}

/// A map in CBOR at the front of `bytes`, as it came.
std::string_view take_map(std::string_view& bytes) {
  const std::string_view before = bytes;
  try {
    if (cbor::read_first(bytes).kind != cbor::Kind::map)
      malformed("the authenticator's data holds no map where one belongs");
  } catch (const cbor::Malformed& error) {
    malformed(error.what());
  }
  return before.substr(0, before.size() - bytes.size());
}

AuthenticatorData::Credential take_credential(std::string_view& rest) {
  constexpr std::size_t longest_id = 1023;  // WebAuthn 4, "credential ID"
  take(rest, 16);                           // AAGUID, the authenticator's model
  const std::size_t id_size = big_endian(take(rest, 2));
  if (id_size == 0 || id_size > longest_id) malformed("a credential id has 1 to 1023 bytes");
  std::string id(take(rest, id_size));
  return {std::move(id), std::string(take_map(rest))};
}

bool in_a_frame(const json::Field& client) {
  const auto cross_origin = client.find("crossOrigin");
  return (cross_origin && cross_origin->boolean()) || client.find("topOrigin");
}

}  // namespace

AuthenticatorData read_authenticator_data(std::string_view bytes) {
  std::string_view rest = bytes;
  AuthenticatorData data;
  data.rp_id_hash = take(rest, 32);
  const unsigned flags = static_cast<unsigned char>(take(rest, 1).front());
  data.user_present = (flags & present_flag) != 0;
  data.user_verified = (flags & verified_flag) != 0;
  data.backup_eligible = (flags & eligible_flag) != 0;
  data.backed_up = (flags & backed_up_flag) != 0;
  data.sign_count = big_endian(take(rest, 4));
  if ((flags & credential_flag) != 0) data.credential = take_credential(rest);
  if ((flags & extensions_flag) != 0) take_map(rest);
  if (!rest.empty()) malformed("something follows after the authenticator's data");
  if (data.backed_up && !data.backup_eligible) {
    throw PasskeyRefused("backup-state", "a passkey that cannot be copied is said to have been");
  }
  return data;
}

void check_client_data(std::string_view client_data_json, const char* type, std::string_view challenge,
                       const std::string& origin) {
  try {
    const auto document = json::parse(client_data_json);
    const json::Field client(document, "/clientDataJSON");
    if (client["type"].text() != type) {
      throw PasskeyRefused("wrong-type", std::string("the browser was not asked for ") + type);
    }
    const auto answered = from_base64url(client["challenge"].text());
    if (!answered || !same_secret(*answered, challenge)) {
      throw PasskeyRefused("wrong-challenge", "the answer belongs to another challenge: begin again");
    }
    const std::string from = client["origin"].text(300);
    if (from != origin) throw PasskeyRefused("wrong-origin", "the answer was given to " + from + ", not to " + origin);
    if (in_a_frame(client)) throw PasskeyRefused("cross-origin", "the page stood in a frame of another site");
  } catch (const json::Refused& error) {
    malformed(error.what());
  }
}

}  // namespace cellarer::access
