// SPDX-License-Identifier: MIT
#include "server/store/chain_hash.hpp"

#include <stdexcept>

#include <sodium.h>

namespace cellarer::store::chain {

namespace {

template <std::size_t size>
std::string as_text(const std::array<std::uint8_t, size>& bytes) {
  return {bytes.begin(), bytes.end()};
}

}  // namespace

Digest sha256(std::string_view bytes) {
  Digest digest;
  crypto_hash_sha256(digest.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  return digest;
}

Salt new_salt() {
  static const int ready = sodium_init();
  if (ready < 0) throw std::runtime_error("libsodium finds no random source");
  Salt salt;
  randombytes_buf(salt.data(), salt.size());
  return salt;
}

std::string fields(const std::vector<std::string>& values) {
  std::string all;
  for (const auto& value : values) all += std::to_string(value.size()) + ":" + value;
  return all;
}

Digest content_hash(const Salt& salt, const std::string& content) { return sha256(as_text(salt) + content); }

Digest link_hash(const std::string& agency, std::int64_t number, const Digest& content, const Digest& previous) {
  return sha256(fields({agency, std::to_string(number), as_text(content), as_text(previous)}));
}

std::string hex(const Digest& digest) {
  static constexpr char digits[] = "0123456789abcdef";
  std::string hexadecimal;
  for (const auto byte : digest) {
    hexadecimal += digits[byte >> 4];
    hexadecimal += digits[byte & 15];
  }
  return hexadecimal;
}

}  // namespace cellarer::store::chain
