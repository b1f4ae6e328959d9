// SPDX-License-Identifier: MIT
#include "server/push/encryption.hpp"

#include <openssl/evp.h>
#include <openssl/hmac.h>

#include <memory>
#include <stdexcept>

#include "server/access/secrets.hpp"
#include "server/octets.hpp"
#include "server/push/p256.hpp"

namespace cellarer::push {

namespace {

constexpr std::size_t key_bytes = 16, nonce_bytes = 12, tag_bytes = 16, salt_bytes = 16, auth_bytes = 16;

std::string hmac(std::string_view key, std::string_view bytes) {
  std::string code(EVP_MAX_MD_SIZE, '\0');
  unsigned int size = 0;
  if (HMAC(EVP_sha256(), key.data(), static_cast<int>(key.size()), octets(bytes), bytes.size(), octets(code), &size) ==
      nullptr) {
    throw std::runtime_error("OpenSSL could not compute an HMAC");
  }
  code.resize(size);
  return code;
}

/// HKDF (RFC 5869) with SHA-256 for at most 32 bytes: one block.
std::string hkdf(std::string_view salt, std::string_view key_material, const std::string& info, std::size_t bytes) {
  return hmac(hmac(salt, key_material), info + '\x01').substr(0, bytes);
}

struct FreeCipher {
  void operator()(EVP_CIPHER_CTX* context) const { EVP_CIPHER_CTX_free(context); }
};

std::string sealed(std::string_view plain, const std::string& key, const std::string& nonce) {
  const std::unique_ptr<EVP_CIPHER_CTX, FreeCipher> context(EVP_CIPHER_CTX_new());
  std::string text(plain.size(), '\0'), tag(tag_bytes, '\0');
  int written = 0, more = 0;
  const bool done =
      context && EVP_EncryptInit_ex(context.get(), EVP_aes_128_gcm(), nullptr, octets(key), octets(nonce)) == 1 &&
      EVP_EncryptUpdate(context.get(), octets(text), &written, octets(plain), static_cast<int>(plain.size())) == 1 &&
      EVP_EncryptFinal_ex(context.get(), octets(text) + written, &more) == 1 &&
      EVP_CIPHER_CTX_ctrl(context.get(), EVP_CTRL_GCM_GET_TAG, static_cast<int>(tag.size()), tag.data()) == 1;
  if (!done) throw std::runtime_error("OpenSSL could not encrypt");
  return text + tag;
}

std::string big_endian(std::uint32_t number) {
  std::string bytes;
  for (const int shift : {24, 16, 8, 0}) bytes += static_cast<char>((number >> shift) & 0xFFU);
  return bytes;
}

}  // namespace

bool is_usable(const PhoneKeys& phone) { return phone.auth_secret.size() == auth_bytes && is_point(phone.public_key); }

OneTime draw_one_time() {
  const KeyPair drawn = draw_key_pair();
  return {drawn.private_key, drawn.public_key, access::random_bytes(salt_bytes)};
}

std::string coded(std::string_view payload, std::string_view key_material, std::string_view salt,
                  std::string_view key_id, std::uint32_t record_size) {
  if (payload.size() + 1 + tag_bytes > record_size) throw std::invalid_argument("the payload is longer than a record");
  const auto info = [](const char* name) { return std::string("Content-Encoding: ") + name + '\0'; };
  const auto key = hkdf(salt, key_material, info("aes128gcm"), key_bytes);
  const auto nonce = hkdf(salt, key_material, info("nonce"), nonce_bytes);  // of the first record: exclusive-or with 0
  const auto last = std::string(payload) + '\x02';
  return std::string(salt) + big_endian(record_size) + static_cast<char>(key_id.size()) + std::string(key_id) +
         sealed(last, key, nonce);
}

std::string encrypted(std::string_view payload, const PhoneKeys& phone, const OneTime& own) {
  if (!is_usable(phone)) throw std::invalid_argument("the phone's keys are not usable");
  if (payload.size() > longest_payload) throw std::invalid_argument("the payload is too long to be pushed");
  const auto secret = shared_secret({own.private_key, own.public_key}, phone.public_key);
  const auto info = std::string("WebPush: info") + '\0' + phone.public_key + own.public_key;
  return coded(payload, hkdf(phone.auth_secret, secret, info, 32), own.salt, own.public_key);
}

}  // namespace cellarer::push
