// SPDX-License-Identifier: MIT
#include "tests/support/authenticator.hpp"

#include <openssl/core_names.h>
#include <openssl/ec.h>
#include <openssl/evp.h>

#include <stdexcept>

namespace cellarer::tests {

namespace {

unsigned char* octets(std::string& bytes) { return reinterpret_cast<unsigned char*>(bytes.data()); }
const unsigned char* octets(const std::string& bytes) { return reinterpret_cast<const unsigned char*>(bytes.data()); }

std::string base64url(const std::string& bytes) {
  std::string text((bytes.size() + 2) / 3 * 4 + 1, '\0');
  text.resize(static_cast<std::size_t>(EVP_EncodeBlock(octets(text), octets(bytes), static_cast<int>(bytes.size()))));
  while (!text.empty() && text.back() == '=') text.pop_back();
  for (char& letter : text) letter = letter == '+' ? '-' : letter == '/' ? '_' : letter;
  return text;
}

std::string sha256(const std::string& bytes) {
  std::string hash(32, '\0');
  EVP_Digest(bytes.data(), bytes.size(), octets(hash), nullptr, EVP_sha256(), nullptr);
  return hash;
}

std::string big_endian(std::uint32_t value, int bytes) {
  std::string text;
  for (int i = bytes - 1; i >= 0; --i) text += static_cast<char>(value >> (8 * i) & 0xFF);
  return text;
}

/// CBOR's head of a byte string of up to 65535 bytes, in the fewest bytes.
std::string cbor_bytes(const std::string& bytes) {
  const auto size = static_cast<std::uint32_t>(bytes.size());
  if (size < 24) return static_cast<char>(0x40 + size) + bytes;
  if (size < 256) return "\x58" + big_endian(size, 1) + bytes;
  return "\x59" + big_endian(size, 2) + bytes;
}

constexpr std::uint8_t credential_flag = 0x40;

}  // namespace

struct Authenticator::Key {
  EVP_PKEY* key = nullptr;
  explicit Key(Algorithm algorithm)
      : key(algorithm == Algorithm::es256 ? EVP_EC_gen("P-256") : EVP_PKEY_Q_keygen(nullptr, nullptr, "ED25519")) {
    if (key == nullptr) throw std::runtime_error("OpenSSL made no key");
  }
  ~Key() { EVP_PKEY_free(key); }
  Key(const Key&) = delete;
  Key& operator=(const Key&) = delete;

  /// COSE: {1: 2, 3: -7, -1: 1, -2: x, -3: y} or {1: 1, 3: -8, -1: 6, -2: x}.
  std::string cose(Algorithm algorithm) const {
    std::string point(65, '\0');
    std::size_t size = point.size();
    if (algorithm == Algorithm::ed25519) {
      EVP_PKEY_get_raw_public_key(key, octets(point), &size);
      return std::string("\xa4\x01\x01\x03\x27\x20\x06\x21") + cbor_bytes(point.substr(0, size));
    }
    EVP_PKEY_get_octet_string_param(key, OSSL_PKEY_PARAM_PUB_KEY, octets(point), point.size(), &size);
    return std::string("\xa5\x01\x02\x03\x26\x20\x01\x21") + cbor_bytes(point.substr(1, 32)) + "\x22" +
           cbor_bytes(point.substr(33, 32));
  }

  std::string sign(const std::string& message, Algorithm algorithm) const {
    EVP_MD_CTX* context = EVP_MD_CTX_new();
    std::string signature(128, '\0');
    std::size_t size = signature.size();
    const bool made = EVP_DigestSignInit(context, nullptr, algorithm == Algorithm::es256 ? EVP_sha256() : nullptr,
                                         nullptr, key) == 1 &&
                      EVP_DigestSign(context, octets(signature), &size, octets(message), message.size()) == 1;
    EVP_MD_CTX_free(context);
    if (!made) throw std::runtime_error("OpenSSL made no signature");
    return signature.substr(0, size);
  }
};

Authenticator::Authenticator(std::string page_origin, Algorithm algorithm)
    : origin(std::move(page_origin)), algorithm_(algorithm), key_(std::make_unique<Key>(algorithm)) {}
Authenticator::~Authenticator() = default;

std::string Authenticator::authenticator_data(const std::string& rp_id, bool with_key) const {
  const auto all_flags = static_cast<std::uint8_t>(flags | (with_key ? credential_flag : 0));
  std::string data = sha256(rp_id_in_place_of_the_options.empty() ? rp_id : rp_id_in_place_of_the_options);
  data += static_cast<char>(all_flags);
  data += big_endian(sign_count, 4);
  if (with_key) {
    data += std::string(16, '\0') + big_endian(static_cast<std::uint32_t>(credential_id.size()), 2) + credential_id +
            key_->cose(algorithm_);
  }
  return data + extensions;
}

std::string Authenticator::client_data(const char* type, const nlohmann::json& options) const {
  nlohmann::json data = {
      {"type", type}, {"challenge", options.at("challenge")}, {"origin", origin}, {"crossOrigin", in_a_frame}};
  if (!type_in_place_of_the_right_one.empty()) data["type"] = type_in_place_of_the_right_one;
  if (!challenge_in_place_of_the_options.empty()) data["challenge"] = challenge_in_place_of_the_options;
  return data.dump();
}

nlohmann::json Authenticator::answer_with(nlohmann::json response) const {
  const std::string id = base64url(credential_id);
  return {{"id", id},
          {"rawId", id},
          {"type", "public-key"},
          {"authenticatorAttachment", "platform"},
          {"response", std::move(response)},
          {"clientExtensionResults", nlohmann::json::object()}};
}

nlohmann::json Authenticator::make(const nlohmann::json& creation_options) {
  user_handle = creation_options.at("user").at("id");
  const std::string data = authenticator_data(creation_options.at("rp").at("id"), true);
  const std::string object =
      "\xa3\x63"
      "fmt\x64none\x67"
      "attStmt\xa0\x68"
      "authData" +
      cbor_bytes(data);
  return answer_with({{"clientDataJSON", base64url(client_data("webauthn.create", creation_options))},
                      {"attestationObject", base64url(object)},
                      {"transports", {"internal"}}});
}

nlohmann::json Authenticator::answer(const nlohmann::json& request_options) {
  const std::string client = client_data("webauthn.get", request_options);
  const std::string data = authenticator_data(request_options.at("rpId"), false);
  return answer_with({{"clientDataJSON", base64url(client)},
                      {"authenticatorData", base64url(data)},
                      {"signature", base64url(key_->sign(data + sha256(client), algorithm_))},
                      {"userHandle", user_handle}});
}

}  // namespace cellarer::tests
