// SPDX-License-Identifier: MIT
#include "server/store/chain_hash.hpp"

#include <memory>
#include <stdexcept>

#include <openssl/evp.h>
#include <sodium.h>

namespace cellarer::store::chain {

namespace {

template <std::size_t size>
std::string as_text(const std::array<std::uint8_t, size>& bytes) {
  return {bytes.begin(), bytes.end()};
}

}  // namespace

/// By OpenSSL, which takes the processor's own instructions: libsodium's was a fifth of recording an entry. What it
/// needs is found and made once, because that costs more than a hash.
Digest sha256(std::string_view bytes) {
  static const std::unique_ptr<EVP_MD, decltype(&EVP_MD_free)> kind(EVP_MD_fetch(nullptr, "SHA256", nullptr),
                                                                    &EVP_MD_free);
  thread_local const std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context(EVP_MD_CTX_new(),
                                                                                     &EVP_MD_CTX_free);
  Digest digest;
  const bool made = kind && context && EVP_DigestInit_ex2(context.get(), kind.get(), nullptr) == 1 &&
                    EVP_DigestUpdate(context.get(), bytes.data(), bytes.size()) == 1 &&
                    EVP_DigestFinal_ex(context.get(), digest.data(), nullptr) == 1;
  if (!made) throw std::runtime_error("OpenSSL cannot make a SHA-256 digest");
  return digest;
}

Salt new_salt() {
  static const int ready = sodium_init();
  if (ready < 0) throw std::runtime_error("libsodium finds no random source");
  Salt salt;
  randombytes_buf(salt.data(), salt.size());
  return salt;
}

std::string fields(std::initializer_list<std::string_view> values) {
  constexpr std::size_t digits_and_colon = 8;
  std::size_t octets = 0;
  for (const auto value : values) octets += value.size() + digits_and_colon;
  std::string all;
  all.reserve(octets);
  for (const auto value : values) {
    all += std::to_string(value.size());
    all += ':';
    all += value;
  }
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
