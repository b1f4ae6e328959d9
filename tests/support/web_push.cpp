// SPDX-License-Identifier: MIT
#include "tests/support/web_push.hpp"

#include <openssl/bn.h>
#include <openssl/core_names.h>
#include <openssl/ec.h>
#include <openssl/ecdsa.h>
#include <openssl/evp.h>
#include <openssl/kdf.h>
#include <openssl/param_build.h>
#include <openssl/rand.h>

#include <memory>
#include <stdexcept>

namespace cellarer::testing {

namespace {

struct Free {
  void operator()(EVP_PKEY* key) const { EVP_PKEY_free(key); }
  void operator()(EVP_PKEY_CTX* context) const { EVP_PKEY_CTX_free(context); }
  void operator()(EVP_CIPHER_CTX* context) const { EVP_CIPHER_CTX_free(context); }
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
  void operator()(EVP_KDF* kdf) const { EVP_KDF_free(kdf); }
  void operator()(EVP_KDF_CTX* context) const { EVP_KDF_CTX_free(context); }
  void operator()(BIGNUM* number) const { BN_free(number); }
  void operator()(ECDSA_SIG* signature) const { ECDSA_SIG_free(signature); }
};
template <class T>
using Owned = std::unique_ptr<T, Free>;

void require(bool holds, const char* what) {
  if (!holds) throw std::runtime_error(what);
}

unsigned char* octets(std::string& bytes) { return reinterpret_cast<unsigned char*>(bytes.data()); }
const unsigned char* octets(const std::string& bytes) { return reinterpret_cast<const unsigned char*>(bytes.data()); }

Owned<EVP_PKEY> key_of(const std::string& public_key, const std::string& private_key) {
  auto* builder = OSSL_PARAM_BLD_new();
  const Owned<BIGNUM> scalar(BN_bin2bn(octets(private_key), static_cast<int>(private_key.size()), nullptr));
  OSSL_PARAM_BLD_push_utf8_string(builder, OSSL_PKEY_PARAM_GROUP_NAME, "P-256", 0);
  OSSL_PARAM_BLD_push_octet_string(builder, OSSL_PKEY_PARAM_PUB_KEY, public_key.data(), public_key.size());
  if (!private_key.empty()) OSSL_PARAM_BLD_push_BN(builder, OSSL_PKEY_PARAM_PRIV_KEY, scalar.get());
  auto* parameters = OSSL_PARAM_BLD_to_param(builder);
  const Owned<EVP_PKEY_CTX> context(EVP_PKEY_CTX_new_from_name(nullptr, "EC", nullptr));
  EVP_PKEY* made = nullptr;
  EVP_PKEY_fromdata_init(context.get());
  EVP_PKEY_fromdata(context.get(), &made, private_key.empty() ? EVP_PKEY_PUBLIC_KEY : EVP_PKEY_KEYPAIR, parameters);
  OSSL_PARAM_free(parameters);
  OSSL_PARAM_BLD_free(builder);
  require(made != nullptr, "no key of P-256");
  return Owned<EVP_PKEY>(made);
}

std::string hkdf(const std::string& salt, const std::string& key, const std::string& info, std::size_t size) {
  const Owned<EVP_KDF> kdf(EVP_KDF_fetch(nullptr, "HKDF", nullptr));
  const Owned<EVP_KDF_CTX> context(EVP_KDF_CTX_new(kdf.get()));
  std::string digest = "SHA256", made(size, '\0'), a = salt, b = key, c = info;
  const OSSL_PARAM parameters[] = {OSSL_PARAM_construct_utf8_string("digest", digest.data(), 0),
                                   OSSL_PARAM_construct_octet_string("salt", a.data(), a.size()),
                                   OSSL_PARAM_construct_octet_string("key", b.data(), b.size()),
                                   OSSL_PARAM_construct_octet_string("info", c.data(), c.size()),
                                   OSSL_PARAM_construct_end()};
  require(EVP_KDF_derive(context.get(), octets(made), size, parameters) == 1, "HKDF");
  return made;
}

std::string opened(const std::string& record, const std::string& key, const std::string& nonce) {
  constexpr std::size_t tag_size = 16;
  require(record.size() > tag_size, "a record without content");
  const auto text = record.substr(0, record.size() - tag_size);
  auto tag = record.substr(text.size());
  const Owned<EVP_CIPHER_CTX> context(EVP_CIPHER_CTX_new());
  std::string plain(text.size(), '\0');
  int written = 0, more = 0;
  EVP_DecryptInit_ex(context.get(), EVP_aes_128_gcm(), nullptr, octets(key), octets(nonce));
  EVP_DecryptUpdate(context.get(), octets(plain), &written, octets(text), static_cast<int>(text.size()));
  EVP_CIPHER_CTX_ctrl(context.get(), EVP_CTRL_GCM_SET_TAG, static_cast<int>(tag.size()), tag.data());
  require(EVP_DecryptFinal_ex(context.get(), octets(plain) + written, &more) == 1, "a record that is not authentic");
  return plain;
}

std::size_t number(const std::string& bytes) {
  std::size_t value = 0;
  for (const char byte : bytes) value = value << 8 | static_cast<unsigned char>(byte);
  return value;
}

constexpr std::size_t salt_size = 16, header_size = 21;
std::string key_id_of(const std::string& body) {
  return body.substr(header_size, static_cast<unsigned char>(body.at(header_size - 1)));
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const auto begin = text.find(from);
  require(begin != std::string::npos, "a part is missing");
  const auto after = begin + from.size();
  return text.substr(after, to.empty() ? std::string::npos : text.find(to, after) - after);
}

}  // namespace

Browser new_browser() {
  const Owned<EVP_PKEY> key(EVP_EC_gen("P-256"));
  Browser browser{std::string(32, '\0'), std::string(65, '\0'), std::string(16, '\0')};
  std::size_t size = 0;
  BIGNUM* scalar = nullptr;
  EVP_PKEY_get_octet_string_param(key.get(), OSSL_PKEY_PARAM_PUB_KEY, octets(browser.public_key), 65, &size);
  EVP_PKEY_get_bn_param(key.get(), OSSL_PKEY_PARAM_PRIV_KEY, &scalar);
  const Owned<BIGNUM> owned(scalar);
  BN_bn2binpad(scalar, octets(browser.private_key), 32);
  RAND_bytes(octets(browser.auth_secret), 16);
  return browser;
}

std::string to_base64url(const std::string& bytes) {
  std::string text(4 * ((bytes.size() + 2) / 3) + 1, '\0');
  EVP_EncodeBlock(octets(text), octets(bytes), static_cast<int>(bytes.size()));
  text.resize(text.find_first_of(std::string("=\0", 2)));
  for (char& c : text) c = c == '+' ? '-' : c == '/' ? '_' : c;
  return text;
}

std::string of_base64url(const std::string& text) {
  std::string plain = text;
  for (char& c : plain) c = c == '-' ? '+' : c == '_' ? '/' : c;
  const auto missing = (4 - plain.size() % 4) % 4;
  plain.append(missing, '=');
  std::string bytes(plain.size() / 4 * 3, '\0');
  require(EVP_DecodeBlock(octets(bytes), octets(plain), static_cast<int>(plain.size())) >= 0, "no base64url");
  bytes.resize(bytes.size() - missing);
  return bytes;
}

std::string decoded(const std::string& body, const std::string& key_material) {
  const auto salt = body.substr(0, salt_size);
  const auto record_size = number(body.substr(salt_size, 4));
  const auto key = hkdf(salt, key_material, std::string("Content-Encoding: aes128gcm") + '\0', 16);
  const auto base = hkdf(salt, key_material, std::string("Content-Encoding: nonce") + '\0', 12);
  std::string text;
  std::size_t at = header_size + key_id_of(body).size();
  for (std::size_t sequence = 0; at < body.size(); ++sequence, at += record_size) {
    auto nonce = base;  // exclusive-or with the record's number, which fits its last byte here
    nonce[11] = static_cast<char>(nonce[11] ^ static_cast<char>(sequence));
    auto plain = opened(body.substr(at, record_size), key, nonce);
    const bool last = at + record_size >= body.size();
    const auto end = plain.find_last_not_of('\0');  // padding: a delimiter, then nothing but zeros
    require(end != std::string::npos && plain[end] == (last ? '\x02' : '\x01'), "a record without its delimiter");
    text += plain.substr(0, end);
  }
  return text;
}

std::string read_message(const std::string& body, const Browser& browser) {
  const auto sender = key_id_of(body);
  const auto mine = key_of(browser.public_key, browser.private_key), theirs = key_of(sender, "");
  const Owned<EVP_PKEY_CTX> context(EVP_PKEY_CTX_new(mine.get(), nullptr));
  std::string secret(32, '\0');
  std::size_t size = secret.size();
  EVP_PKEY_derive_init(context.get());
  EVP_PKEY_derive_set_peer(context.get(), theirs.get());
  require(EVP_PKEY_derive(context.get(), octets(secret), &size) == 1, "no shared secret");
  const auto info = std::string("WebPush: info") + '\0' + browser.public_key + sender;
  return decoded(body, hkdf(browser.auth_secret, secret, info, 32));
}

std::string claims_of(const std::string& authorization) {
  const auto token = between(authorization, "t=", ",");
  const auto signature = of_base64url(token.substr(token.rfind('.') + 1));
  const auto said = token.substr(0, token.rfind('.'));
  require(signature.size() == 64, "a signature is 64 bytes");
  const Owned<ECDSA_SIG> parts(ECDSA_SIG_new());
  ECDSA_SIG_set0(parts.get(), BN_bin2bn(octets(signature), 32, nullptr),
                 BN_bin2bn(octets(signature) + 32, 32, nullptr));
  std::string der(80, '\0');
  auto* to = octets(der);
  der.resize(static_cast<std::size_t>(i2d_ECDSA_SIG(parts.get(), &to)));
  const auto key = key_of(of_base64url(between(authorization, "k=", "")), "");
  const Owned<EVP_MD_CTX> context(EVP_MD_CTX_new());
  EVP_DigestVerifyInit(context.get(), nullptr, EVP_sha256(), nullptr, key.get());
  require(EVP_DigestVerify(context.get(), octets(der), der.size(), octets(said), said.size()) == 1,
          "another key has signed");
  return of_base64url(between(said, ".", ""));
}

}  // namespace cellarer::testing
