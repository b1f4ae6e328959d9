// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "tests/support/http_client.hpp"

namespace cellarer::testing {

/// A name that nobody has (RFC 6761).
inline const std::string public_host = "cells.test";

/// A certificate with its key, signed by itself, made anew for each call. The times are in days from now.
struct CertificateFiles {
  std::filesystem::path certificate, key;
};
CertificateFiles make_certificate(const std::filesystem::path& folder, const std::string& file_name, int from_days = -1,
                                  int until_days = 90, const std::string& host = public_host);

/// GET over TLS by libcurl as `https://cells.test:port`, trusting only this certificate. Status 0 where the connection
/// was refused by either side.
Answer https_get(int port, const std::filesystem::path& trusted, const std::string& path,
                 const std::vector<std::string>& headers = {});

/// A handshake by OpenSSL's client, with what it offers.
struct Offer {
  int lowest_version, highest_version;      ///< 0x0302 for TLS 1.1 to 0x0304 for TLS 1.3
  std::string ciphers = "ALL:@SECLEVEL=0";  ///< for TLS 1.2 and before
  std::string protocols = {};               ///< of ALPN, each after its length; none: not sent
};
struct Handshake {
  bool done = false;
  std::string version, cipher, protocol;
  int alert = 0;  ///< the alert that came from the server; 0: none
};
Handshake shake_hands(int port, const Offer& offer);

}  // namespace cellarer::testing
