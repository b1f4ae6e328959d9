// SPDX-License-Identifier: MIT
#pragma once
#include <boost/asio/ssl/context.hpp>

#include "server/config.hpp"

namespace cellarer::http {

/// How this service speaks TLS: 1.2 and 1.3 only, with forward secrecy and authenticated encryption, as Mozilla's
/// "intermediate" guideline has it (Server Side TLS 5.7, without its finite-field Diffie-Hellman, which costs a server
/// dear and which no browser of today needs); http/1.1 by ALPN (RFC 7301). Throws std::runtime_error that names the
/// file where the pair cannot be used.
boost::asio::ssl::context tls_context(const TlsFiles& files);

}  // namespace cellarer::http
