// SPDX-License-Identifier: MIT
#include "server/push/vapid.hpp"

#include <fcntl.h>
#include <openssl/ecdsa.h>
#include <openssl/pem.h>
#include <unistd.h>

#include <cstdio>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "server/access/secrets.hpp"

namespace cellarer::push {

namespace {

struct FreeSigning {
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
  void operator()(ECDSA_SIG* signature) const { ECDSA_SIG_free(signature); }
  void operator()(std::FILE* file) const { std::fclose(file); }
};

constexpr int number_bytes = 32;

/// OpenSSL writes a signature as DER; JWS wants r and s, 32 bytes each, and nothing else (RFC 7518, 3.4).
std::string plain_signature(const std::string& der) {
  const auto* at = reinterpret_cast<const unsigned char*>(der.data());
  const std::unique_ptr<ECDSA_SIG, FreeSigning> parts(d2i_ECDSA_SIG(nullptr, &at, static_cast<long>(der.size())));
  std::string plain(std::size_t{2} * number_bytes, '\0');
  auto* to = reinterpret_cast<unsigned char*>(plain.data());
  if (!parts || BN_bn2binpad(ECDSA_SIG_get0_r(parts.get()), to, number_bytes) < 0 ||
      BN_bn2binpad(ECDSA_SIG_get0_s(parts.get()), to + number_bytes, number_bytes) < 0) {
    throw std::runtime_error("OpenSSL could not write a signature");
  }
  return plain;
}

std::string es256(const Key& key, const std::string& message) {
  const std::unique_ptr<EVP_MD_CTX, FreeSigning> context(EVP_MD_CTX_new());
  const auto* bytes = reinterpret_cast<const unsigned char*>(message.data());
  std::size_t size = 0;
  if (!context || EVP_DigestSignInit(context.get(), nullptr, EVP_sha256(), nullptr, key.get()) != 1 ||
      EVP_DigestSign(context.get(), nullptr, &size, bytes, message.size()) != 1) {
    throw std::runtime_error("OpenSSL could not sign");
  }
  std::string der(size, '\0');
  if (EVP_DigestSign(context.get(), reinterpret_cast<unsigned char*>(der.data()), &size, bytes, message.size()) != 1)
    throw std::runtime_error("OpenSSL could not sign");
  der.resize(size);
  return plain_signature(der);
}

/// A file for its owner alone, which must not be there yet.
void write_key(const std::filesystem::path& file, const Key& key) {
  const int opened = open(file.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
  const std::unique_ptr<std::FILE, FreeSigning> stream(opened < 0 ? nullptr : fdopen(opened, "w"));
  if (!stream || PEM_write_PrivateKey(stream.get(), key.get(), nullptr, nullptr, 0, nullptr, nullptr) != 1 ||
      std::fflush(stream.get()) != 0 || fsync(opened) != 0) {
    throw std::runtime_error("cannot write " + file.string());
  }
}

}  // namespace

Vapid Vapid::kept_in(const std::filesystem::path& file) {
  if (!std::filesystem::exists(file)) {
    const auto drawn = draw_key_pair();
    write_key(file, openssl_key(drawn));
    return Vapid(drawn);
  }
  const std::unique_ptr<std::FILE, FreeSigning> stream(std::fopen(file.c_str(), "re"));
  const Key key(stream ? PEM_read_PrivateKey(stream.get(), nullptr, nullptr, nullptr) : nullptr);
  if (!key) throw std::runtime_error("cannot read the key in " + file.string());
  try {
    return Vapid(pair_of(key));
  } catch (const std::invalid_argument&) {
    throw std::runtime_error(file.string() + " holds no key of P-256");
  }
}

std::string Vapid::authorization(const std::string& audience, const std::string& contact, Instant expires) const {
  const nlohmann::json head{{"typ", "JWT"}, {"alg", "ES256"}};
  const nlohmann::json claims{{"aud", audience}, {"exp", expires.time_since_epoch().count()}, {"sub", contact}};
  const auto said = access::base64url(head.dump()) + "." + access::base64url(claims.dump());
  const auto signature = es256(openssl_key(pair_), said);
  return "vapid t=" + said + "." + access::base64url(signature) + ", k=" + access::base64url(pair_.public_key);
}

}  // namespace cellarer::push
