// SPDX-License-Identifier: MIT
#include "server/push/p256.hpp"

#include <openssl/bn.h>
#include <openssl/core_names.h>
#include <openssl/ec.h>
#include <openssl/err.h>
#include <openssl/param_build.h>

#include <stdexcept>

#include "server/octets.hpp"

namespace cellarer::push {

namespace {

constexpr const char* curve = "prime256v1";
constexpr std::size_t point_bytes = 65, scalar_bytes = 32;

struct FreePart {
  void operator()(EVP_PKEY_CTX* context) const { EVP_PKEY_CTX_free(context); }
  void operator()(OSSL_PARAM_BLD* builder) const { OSSL_PARAM_BLD_free(builder); }
  void operator()(OSSL_PARAM* parameters) const { OSSL_PARAM_free(parameters); }
  void operator()(BIGNUM* number) const { BN_clear_free(number); }
};
template <class T>
using Owned = std::unique_ptr<T, FreePart>;

/// Null where the point is not on the curve. Without a private key: a public one.
Key key_of(const std::string& public_key, const std::string& private_key) {
  const Owned<OSSL_PARAM_BLD> builder(OSSL_PARAM_BLD_new());
  const Owned<BIGNUM> scalar(BN_bin2bn(octets(private_key), static_cast<int>(private_key.size()), nullptr));
  OSSL_PARAM_BLD_push_utf8_string(builder.get(), OSSL_PKEY_PARAM_GROUP_NAME, curve, 0);
  OSSL_PARAM_BLD_push_octet_string(builder.get(), OSSL_PKEY_PARAM_PUB_KEY, public_key.data(), public_key.size());
  if (!private_key.empty()) OSSL_PARAM_BLD_push_BN(builder.get(), OSSL_PKEY_PARAM_PRIV_KEY, scalar.get());
  const Owned<OSSL_PARAM> parameters(OSSL_PARAM_BLD_to_param(builder.get()));
  const Owned<EVP_PKEY_CTX> context(EVP_PKEY_CTX_new_from_name(nullptr, "EC", nullptr));
  EVP_PKEY* made = nullptr;
  const int what = private_key.empty() ? EVP_PKEY_PUBLIC_KEY : EVP_PKEY_KEYPAIR;
  if (!context || EVP_PKEY_fromdata_init(context.get()) != 1 ||
      EVP_PKEY_fromdata(context.get(), &made, what, parameters.get()) != 1) {
    ERR_clear_error();
    return nullptr;
  }
  return Key(made);
}

}  // namespace

KeyPair draw_key_pair() {
  const Key drawn(EVP_EC_gen(curve));
  if (!drawn) throw std::runtime_error("OpenSSL could not draw a key");
  return pair_of(drawn);
}

bool is_point(const std::string& public_key) {
  return public_key.size() == point_bytes && public_key[0] == '\x04' && key_of(public_key, "") != nullptr;
}

Key openssl_key(const KeyPair& pair) {
  Key key = pair.private_key.size() == scalar_bytes ? key_of(pair.public_key, pair.private_key) : nullptr;
  if (!key) throw std::invalid_argument("not a key pair of P-256");
  return key;
}

KeyPair pair_of(const Key& key) {
  KeyPair pair{std::string(scalar_bytes, '\0'), std::string(point_bytes, '\0')};
  std::size_t size = 0;
  BIGNUM* scalar = nullptr;
  const bool read = EVP_PKEY_get_octet_string_param(key.get(), OSSL_PKEY_PARAM_PUB_KEY, octets(pair.public_key),
                                                    pair.public_key.size(), &size) == 1 &&
                    size == point_bytes && EVP_PKEY_get_bn_param(key.get(), OSSL_PKEY_PARAM_PRIV_KEY, &scalar) == 1;
  const Owned<BIGNUM> owned(scalar);
  if (!read || BN_bn2binpad(scalar, octets(pair.private_key), static_cast<int>(scalar_bytes)) < 0)
    throw std::invalid_argument("not a key pair of P-256");
  return pair;
}

std::string shared_secret(const KeyPair& own, const std::string& public_key) {
  const Key mine = openssl_key(own), theirs = key_of(public_key, "");
  const Owned<EVP_PKEY_CTX> context(theirs ? EVP_PKEY_CTX_new(mine.get(), nullptr) : nullptr);
  std::string secret(scalar_bytes, '\0');
  std::size_t size = secret.size();
  const bool derived = context && EVP_PKEY_derive_init(context.get()) == 1 &&
                       EVP_PKEY_derive_set_peer(context.get(), theirs.get()) == 1 &&
                       EVP_PKEY_derive(context.get(), octets(secret), &size) == 1 && size == scalar_bytes;
  if (!derived) throw std::invalid_argument("these keys share no secret");
  return secret;
}

}  // namespace cellarer::push
