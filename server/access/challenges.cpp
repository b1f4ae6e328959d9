// SPDX-License-Identifier: MIT
#include "server/access/challenges.hpp"

#include <sodium.h>

#include "server/access/secrets.hpp"

namespace cellarer::access {

namespace {

constexpr auto good_for = std::chrono::minutes(5);
constexpr std::size_t nonce_bytes = 8, expiry_bytes = 8, proof_bytes = 16;

std::string big_endian(std::int64_t number) {
  std::string bytes(expiry_bytes, '\0');
  for (std::size_t i = 0; i < expiry_bytes; ++i) bytes[i] = static_cast<char>(number >> (8 * (expiry_bytes - 1 - i)));
  return bytes;
}

std::int64_t number_of(std::string_view bytes) {
  std::int64_t number = 0;
  for (const char byte : bytes) number = number << 8 | static_cast<unsigned char>(byte);
  return number;
}

}  // namespace

Challenges::Challenges(const Clock& clock) : clock_(clock), key_(random_bytes(crypto_auth_KEYBYTES)) {}

std::string Challenges::proof(const std::string& purpose, const std::string& expiry_and_nonce) const {
  const std::string message = expiry_and_nonce + purpose;  // the first part has a fixed length
  std::string mac(crypto_auth_BYTES, '\0');
  crypto_auth(reinterpret_cast<unsigned char*>(mac.data()), reinterpret_cast<const unsigned char*>(message.data()),
              message.size(), reinterpret_cast<const unsigned char*>(key_.data()));
  return mac.substr(0, proof_bytes);
}

std::string Challenges::issue(const std::string& purpose) {
  const Instant until = clock_.now() + good_for;
  const auto head = big_endian(until.time_since_epoch().count()) + random_bytes(nonce_bytes);
  return base64url(head + proof(purpose, head));
}

bool Challenges::take(const std::string& challenge, const std::string& purpose) {
  const auto bytes = from_base64url(challenge);
  if (!bytes || bytes->size() != expiry_bytes + nonce_bytes + proof_bytes) return false;
  const auto head = bytes->substr(0, expiry_bytes + nonce_bytes);
  if (!same_secret(bytes->substr(head.size()), proof(purpose, head))) return false;
  const Instant until{std::chrono::seconds(number_of(std::string_view(head).substr(0, expiry_bytes)))};
  const Instant now = clock_.now();
  if (until <= now) return false;
  const std::lock_guard lock(mutex_);
  std::erase_if(used_, [&](const auto& one) { return one.second <= now; });
  return used_.emplace(challenge, until).second;
}

}  // namespace cellarer::access
