// SPDX-License-Identifier: MIT
#pragma once
#include <openssl/evp.h>

#include <memory>
#include <string>

/// Keys on the curve P-256 (FIPS 186-4; SEC 1 for how points are written), by OpenSSL.
namespace cellarer::push {

struct FreeKey {
  void operator()(EVP_PKEY* key) const { EVP_PKEY_free(key); }
};
using Key = std::unique_ptr<EVP_PKEY, FreeKey>;

struct KeyPair {
  std::string private_key;  ///< 32 bytes, big-endian
  std::string public_key;   ///< 65 bytes: 4, x, y
};

KeyPair draw_key_pair();

/// Whether these are 65 bytes that name a point on the curve.
bool is_point(const std::string& public_key);

/// For OpenSSL's own calls. Throws std::invalid_argument where they are no such keys.
Key openssl_key(const KeyPair& pair);
KeyPair pair_of(const Key& key);

/// The x coordinate of the two keys' Diffie-Hellman point: 32 bytes.
std::string shared_secret(const KeyPair& own, const std::string& public_key);

}  // namespace cellarer::push
