// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "server/access/sessions.hpp"

/// The session's cookie. Its prefix makes browsers insist on Secure, Path=/ and no Domain (RFC 6265bis, 4.1.3.2).
namespace cellarer::access {

inline constexpr const char* cookie_name = "__Host-cellarer";

/// The token in a Cookie header: 43 letters of base64url. None where the cookie is not there, is not of that form, or
/// comes twice with different values.
std::optional<std::string> session_token(std::string_view cookie_header);

/// Set-Cookie of a token, and of its end.
std::string set_cookie(const Token& token);
std::string end_cookie();

}  // namespace cellarer::access
