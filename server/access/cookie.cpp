// SPDX-License-Identifier: MIT
#include "server/access/cookie.hpp"

#include "server/access/secrets.hpp"

namespace cellarer::access {

namespace {

constexpr std::size_t token_bytes = 32;
constexpr const char* attributes = "; Path=/; Secure; HttpOnly; SameSite=Strict";

std::string_view trimmed(std::string_view text) {
  const auto from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

}  // namespace

std::optional<std::string> session_token(std::string_view cookie_header) {
  std::optional<std::string> token;
  while (!cookie_header.empty()) {
    const auto end = cookie_header.find(';');
    const auto pair = cookie_header.substr(0, end);
    cookie_header = end == std::string_view::npos ? std::string_view() : cookie_header.substr(end + 1);
    const auto equals = pair.find('=');
    if (equals == std::string_view::npos || trimmed(pair.substr(0, equals)) != cookie_name) continue;
    const auto value = trimmed(pair.substr(equals + 1));
    const auto bytes = from_base64url(value);
    if (!bytes || bytes->size() != token_bytes || (token && *token != value)) return std::nullopt;
    token = std::string(value);
  }
  return token;
}

std::string set_cookie(const Token& token) {
  return std::string(cookie_name) + "=" + token.text + attributes +
         "; Max-Age=" + std::to_string(token.good_for.count());
}

std::string end_cookie() { return std::string(cookie_name) + "=" + attributes + "; Max-Age=0"; }

}  // namespace cellarer::access
