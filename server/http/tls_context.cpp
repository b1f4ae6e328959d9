// SPDX-License-Identifier: MIT
#include "server/http/tls_context.hpp"

#include <openssl/ssl.h>

#include <cstring>
#include <stdexcept>

namespace cellarer::http {

namespace ssl = boost::asio::ssl;

namespace {

// For TLS 1.2; OpenSSL's own three of TLS 1.3 are the guideline's. The client's order counts: it knows what is fast.
constexpr const char* ciphers =
    "ECDHE-ECDSA-AES128-GCM-SHA256:ECDHE-RSA-AES128-GCM-SHA256:ECDHE-ECDSA-AES256-GCM-SHA384:"
    "ECDHE-RSA-AES256-GCM-SHA384:ECDHE-ECDSA-CHACHA20-POLY1305:ECDHE-RSA-CHACHA20-POLY1305";
constexpr int kept_sessions = 4096;

/// A client that names protocols and not this one is of some other service (RFC 7301, 3.2): no handshake.
int choose_protocol(SSL*, const unsigned char** chosen, unsigned char* chosen_length, const unsigned char* offered,
                    unsigned int offered_length, void*) {
  static constexpr unsigned char ours[] = {8, 'h', 't', 't', 'p', '/', '1', '.', '1'};
  unsigned char* found = nullptr;
  if (SSL_select_next_proto(&found, chosen_length, ours, sizeof ours, offered, offered_length) !=
      OPENSSL_NPN_NEGOTIATED)
    return SSL_TLSEXT_ERR_ALERT_FATAL;
  *chosen = found;
  return SSL_TLSEXT_ERR_OK;
}

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& why) {
  throw std::runtime_error("TLS: " + file.string() + ": " + why);
}

}  // namespace

ssl::context tls_context(const TlsFiles& files) {
  ssl::context context(ssl::context::tls_server);
  SSL_CTX* native = context.native_handle();
  SSL_CTX_set_min_proto_version(native, TLS1_2_VERSION);
  SSL_CTX_set_security_level(native, 2);  // no keys under 112 bits: RSA of 2048, curves of 224
  if (SSL_CTX_set_cipher_list(native, ciphers) != 1) throw std::runtime_error("TLS: OpenSSL knows none of the ciphers");
  // No tickets: their key would open every recorded conversation of TLS 1.2 for as long as the service runs.
  SSL_CTX_set_options(native, SSL_OP_NO_TICKET | SSL_OP_NO_RENEGOTIATION | SSL_OP_NO_COMPRESSION);
  SSL_CTX_sess_set_cache_size(native, kept_sessions);
  SSL_CTX_set_alpn_select_cb(native, choose_protocol, nullptr);
  // A key under a passphrase is refused; OpenSSL would ask for it at the terminal.
  context.set_password_callback([](std::size_t, ssl::context::password_purpose) { return std::string(); });

  boost::system::error_code error;
  context.use_certificate_chain_file(files.certificate.string(), error);
  if (error) refuse(files.certificate, "no certificate chain in PEM can be read from it (" + error.message() + ")");
  context.use_private_key_file(files.key.string(), ssl::context::pem, error);
  if (error) refuse(files.key, "no key of this certificate in PEM can be read from it (" + error.message() + ")");
  if (SSL_CTX_check_private_key(native) != 1) refuse(files.key, "is not the key of the certificate");
  return context;
}

}  // namespace cellarer::http
