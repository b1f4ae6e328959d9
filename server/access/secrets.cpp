// SPDX-License-Identifier: MIT
#include "server/access/secrets.hpp"

#include <sodium.h>

#include <algorithm>
#include <stdexcept>

#include "server/octets.hpp"

namespace cellarer::access {

namespace {

/// libsodium is started once, by whoever comes first; threads wait for one another here.
void start_sodium() {
  static const int started = sodium_init();
  if (started < 0) throw std::runtime_error("libsodium could not be started: the system gives no random bytes");
}

constexpr int without_padding = sodium_base64_VARIANT_URLSAFE_NO_PADDING;

}  // namespace

std::string random_bytes(std::size_t count) {
  start_sodium();
  std::string bytes(count, '\0');
  randombytes_buf(bytes.data(), bytes.size());
  return bytes;
}

std::string base64url(std::string_view bytes) {
  std::string text(sodium_base64_encoded_len(bytes.size(), without_padding), '\0');
  sodium_bin2base64(text.data(), text.size(), octets(bytes), bytes.size(), without_padding);
  text.pop_back();  // its closing zero
  return text;
}

std::optional<std::string> from_base64url(std::string_view text) {
  // libsodium 1.0.18 reads some bytes above 127 as letters: it computes with signed characters.
  if (std::any_of(text.begin(), text.end(), [](unsigned char c) { return c > 127; })) return std::nullopt;
  std::string bytes(text.size() / 4 * 3 + 3, '\0');
  std::size_t size = 0;
  const char* end = nullptr;
  const int refused =
      sodium_base642bin(octets(bytes), bytes.size(), text.data(), text.size(), nullptr, &size, &end, without_padding);
  if (refused != 0 || end != text.data() + text.size()) return std::nullopt;
  bytes.resize(size);
  return bytes;
}

std::string random_token(std::size_t bytes) { return base64url(random_bytes(bytes)); }

std::string new_account_id() {
  std::string id = random_token(16);
  while (id.front() == '-') id = random_token(16);
  return id;
}

std::string sha256(std::string_view bytes) {
  std::string hash(crypto_hash_sha256_BYTES, '\0');
  crypto_hash_sha256(octets(hash), octets(bytes), bytes.size());
  return hash;
}

Digest keyed_digest(std::string_view key, std::string_view first, std::string_view second) {
  start_sodium();
  Digest digest;
  crypto_generichash_state state;
  crypto_generichash_init(&state, octets(key), key.size(), digest.size());
  crypto_generichash_update(&state, octets(first), first.size());
  crypto_generichash_update(&state, octets(second), second.size());
  crypto_generichash_final(&state, digest.data(), digest.size());
  return digest;
}

bool same_secret(std::string_view one, std::string_view other) {
  return one.size() == other.size() && sodium_memcmp(one.data(), other.data(), one.size()) == 0;
}

}  // namespace cellarer::access
