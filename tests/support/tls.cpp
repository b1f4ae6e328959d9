// SPDX-License-Identifier: MIT
#include "tests/support/tls.hpp"

#include <curl/curl.h>
#include <openssl/bio.h>
#include <openssl/err.h>
#include <openssl/pem.h>
#include <openssl/ssl.h>
#include <openssl/x509v3.h>

#include <memory>
#include <stdexcept>

#include "tests/support/raw_connection.hpp"

namespace cellarer::testing {

namespace {

template <auto release>
struct Release {
  template <class Thing>
  void operator()(Thing* thing) const {
    release(thing);
  }
};
template <class Thing, auto release>
using Own = std::unique_ptr<Thing, Release<release>>;

void add_alternative_name(X509* certificate, const std::string& host) {
  const auto names = "DNS:" + host + ",IP:127.0.0.1";
  Own<X509_EXTENSION, X509_EXTENSION_free> extension(
      X509V3_EXT_conf_nid(nullptr, nullptr, NID_subject_alt_name, names.c_str()));
  X509_add_ext(certificate, extension.get(), -1);
}

std::size_t take(char* from, std::size_t size, std::size_t count, void* to) {
  static_cast<std::string*>(to)->append(from, size * count);
  return size * count;
}

}  // namespace

CertificateFiles make_certificate(const std::filesystem::path& folder, const std::string& file_name, int from_days,
                                  int until_days, const std::string& host) {
  static long serial = 0;
  constexpr long day_s = 86'400;
  Own<EVP_PKEY, EVP_PKEY_free> key(EVP_EC_gen("P-256"));
  Own<X509, X509_free> certificate(X509_new());
  X509_set_version(certificate.get(), X509_VERSION_3);
  ASN1_INTEGER_set(X509_get_serialNumber(certificate.get()), ++serial);
  X509_gmtime_adj(X509_getm_notBefore(certificate.get()), from_days * day_s);
  X509_gmtime_adj(X509_getm_notAfter(certificate.get()), until_days * day_s);
  X509_set_pubkey(certificate.get(), key.get());
  X509_NAME* name = X509_get_subject_name(certificate.get());
  X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_ASC, reinterpret_cast<const unsigned char*>(host.c_str()), -1, -1, 0);
  X509_set_issuer_name(certificate.get(), name);
  add_alternative_name(certificate.get(), host);
  if (X509_sign(certificate.get(), key.get(), EVP_sha256()) == 0) throw std::runtime_error("no certificate was made");

  const CertificateFiles files{folder / (file_name + ".pem"), folder / (file_name + ".key")};
  Own<BIO, BIO_free> certificate_file(BIO_new_file(files.certificate.c_str(), "w"));
  PEM_write_bio_X509(certificate_file.get(), certificate.get());
  Own<BIO, BIO_free> key_file(BIO_new_file(files.key.c_str(), "w"));
  PEM_write_bio_PrivateKey(key_file.get(), key.get(), nullptr, nullptr, 0, nullptr, nullptr);
  return files;
}

Answer https_get(int port, const std::filesystem::path& trusted, const std::string& path,
                 const std::vector<std::string>& headers) {
  CURL* curl = curl_easy_init();
  const auto authority = public_host + ":" + std::to_string(port);
  const auto url = "https://" + authority + path;
  curl_slist* resolve = curl_slist_append(nullptr, (authority + ":127.0.0.1").c_str());
  curl_slist* list = nullptr;
  for (const auto& header : headers) list = curl_slist_append(list, header.c_str());
  std::string head;
  Answer answer;
  curl_easy_setopt(curl, CURLOPT_URL, url.c_str());
  curl_easy_setopt(curl, CURLOPT_RESOLVE, resolve);
  curl_easy_setopt(curl, CURLOPT_HTTPHEADER, list);
  curl_easy_setopt(curl, CURLOPT_CAINFO, trusted.c_str());
  curl_easy_setopt(curl, CURLOPT_PROXY, "");  // nothing is read from the environment
  curl_easy_setopt(curl, CURLOPT_TIMEOUT, 20L);
  curl_easy_setopt(curl, CURLOPT_NOSIGNAL, 1L);
  curl_easy_setopt(curl, CURLOPT_WRITEFUNCTION, take);
  curl_easy_setopt(curl, CURLOPT_WRITEDATA, &answer.body);
  curl_easy_setopt(curl, CURLOPT_HEADERFUNCTION, take);
  curl_easy_setopt(curl, CURLOPT_HEADERDATA, &head);
  if (curl_easy_perform(curl) == CURLE_OK) curl_easy_getinfo(curl, CURLINFO_RESPONSE_CODE, &answer.status);
  answer.headers = fields_of(head);
  curl_slist_free_all(list);
  curl_slist_free_all(resolve);
  curl_easy_cleanup(curl);
  return answer;
}

Handshake shake_hands(int port, const Offer& offer) {
  Own<SSL_CTX, SSL_CTX_free> context(SSL_CTX_new(TLS_client_method()));
  SSL_CTX_set_security_level(context.get(), 0);
  SSL_CTX_set_min_proto_version(context.get(), offer.lowest_version);
  SSL_CTX_set_max_proto_version(context.get(), offer.highest_version);
  if (SSL_CTX_set_cipher_list(context.get(), offer.ciphers.c_str()) != 1) throw std::runtime_error("no such cipher");
  const RawConnection connection(port);
  Own<SSL, SSL_free> own(SSL_new(context.get()));
  SSL* ssl = own.get();
  SSL_set_fd(ssl, connection.socket());
  if (!offer.protocols.empty()) {
    SSL_set_alpn_protos(ssl, reinterpret_cast<const unsigned char*>(offer.protocols.data()),
                        static_cast<unsigned>(offer.protocols.size()));
  }
  Handshake made;
  ERR_clear_error();
  made.done = SSL_connect(ssl) == 1;
  const int reason = ERR_GET_REASON(ERR_peek_error());
  if (!made.done && reason > SSL_AD_REASON_OFFSET) made.alert = reason - SSL_AD_REASON_OFFSET;
  made.version = SSL_get_version(ssl);
  if (made.done) made.cipher = SSL_get_cipher_name(ssl);
  const unsigned char* chosen = nullptr;
  unsigned length = 0;
  SSL_get0_alpn_selected(ssl, &chosen, &length);
  if (length > 0) made.protocol.assign(reinterpret_cast<const char*>(chosen), length);
  return made;
}

}  // namespace cellarer::testing
