// SPDX-License-Identifier: MIT
#include "server/access/argon.hpp"

#include <sodium.h>

#include <new>

#include "server/access/secrets.hpp"

namespace cellarer::access {

std::string hash_typed_code(std::string_view code, ArgonCost cost) {
  random_bytes(0);  // starts libsodium, which draws the salt
  std::string hash(crypto_pwhash_argon2id_STRBYTES, '\0');
  if (crypto_pwhash_argon2id_str(hash.data(), code.data(), code.size(), cost.passes, cost.memory_KiB * 1024) != 0) {
    throw std::bad_alloc();
  }
  hash.resize(hash.find('\0'));
  return hash;
}

bool verify_typed_code(std::string_view code, const std::string& stored_hash) {
  if (stored_hash.size() >= crypto_pwhash_argon2id_STRBYTES) return false;
  return crypto_pwhash_argon2id_str_verify(stored_hash.c_str(), code.data(), code.size()) == 0;
}

}  // namespace cellarer::access
