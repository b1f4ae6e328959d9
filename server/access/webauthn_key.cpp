// SPDX-License-Identifier: MIT
#include "server/access/webauthn_key.hpp"

#include <openssl/core_names.h>
#include <openssl/err.h>
#include <openssl/evp.h>

#include <memory>

#include "server/access/passkey.hpp"
#include "server/octets.hpp"

namespace cellarer::access {

namespace {

struct Free {
  void operator()(EVP_PKEY* key) const { EVP_PKEY_free(key); }
  void operator()(EVP_PKEY_CTX* context) const { EVP_PKEY_CTX_free(context); }
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};
using Key = std::unique_ptr<EVP_PKEY, Free>;

/// Null where the point is not on the curve.
Key p256_key(const PublicKey& key) {
  std::string point = '\x04' + key.x + key.y;  // SEC 1, 2.3.3: uncompressed
  char group[] = "prime256v1";
  OSSL_PARAM parameters[] = {OSSL_PARAM_construct_utf8_string(OSSL_PKEY_PARAM_GROUP_NAME, group, 0),
                             OSSL_PARAM_construct_octet_string(OSSL_PKEY_PARAM_PUB_KEY, point.data(), point.size()),
                             OSSL_PARAM_construct_end()};
  const std::unique_ptr<EVP_PKEY_CTX, Free> context(EVP_PKEY_CTX_new_from_name(nullptr, "EC", nullptr));
  EVP_PKEY* made = nullptr;
  if (!context || EVP_PKEY_fromdata_init(context.get()) != 1 ||
      EVP_PKEY_fromdata(context.get(), &made, EVP_PKEY_PUBLIC_KEY, parameters) != 1) {
    return nullptr;
  }
  return Key(made);
}

Key openssl_key(const PublicKey& key) {
  if (key.algorithm == KeyAlgorithm::es256) return p256_key(key);
  return Key(EVP_PKEY_new_raw_public_key(EVP_PKEY_ED25519, nullptr, octets(key.x), key.x.size()));
}

bool is(const cbor::Item& cose, std::int64_t label, std::int64_t wanted) {
  const auto* item = cbor::find(cose, label);
  return item != nullptr && cbor::integer(*item) == wanted;
}

std::string coordinate(const cbor::Item& cose, std::int64_t label) {
  constexpr std::size_t size = 32;
  const auto* item = cbor::find(cose, label);
  if (item == nullptr || item->kind != cbor::Kind::bytes || item->content.size() != size) {
    throw PasskeyRefused("malformed-key", "the passkey's public key lacks a coordinate of 32 bytes");
  }
  return item->content;
}

}  // namespace

PublicKey read_public_key(const cbor::Item& cose) {
  PublicKey key;
  if (is(cose, 1, 2) && is(cose, 3, -7) && is(cose, -1, 1)) {
    key = {KeyAlgorithm::es256, coordinate(cose, -2), coordinate(cose, -3)};
  } else if (is(cose, 1, 1) && is(cose, 3, -8) && is(cose, -1, 6)) {
    key = {KeyAlgorithm::ed25519, coordinate(cose, -2), ""};
  } else {
    throw PasskeyRefused("unsupported-key", "the passkey's public key is neither ES256 nor Ed25519");
  }
  const bool usable = openssl_key(key) != nullptr;
  ERR_clear_error();
  if (!usable) throw PasskeyRefused("malformed-key", "the passkey's public key is no point of its curve");
  return key;
}

bool signature_fits(const PublicKey& key, std::string_view message, std::string_view signature) {
  const Key openssl = openssl_key(key);
  const std::unique_ptr<EVP_MD_CTX, Free> context(EVP_MD_CTX_new());
  const EVP_MD* digest = key.algorithm == KeyAlgorithm::es256 ? EVP_sha256() : nullptr;  // Ed25519 hashes by itself
  const bool fits =
      openssl && context && EVP_DigestVerifyInit(context.get(), nullptr, digest, nullptr, openssl.get()) == 1 &&
      EVP_DigestVerify(context.get(), octets(signature), signature.size(), octets(message), message.size()) == 1;
  ERR_clear_error();  // what a stranger sent wrong is not left for the next caller of OpenSSL on this thread
  return fits;
}

}  // namespace cellarer::access
