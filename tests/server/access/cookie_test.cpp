// SPDX-License-Identifier: MIT
// Cookies by RFC 6265 (4.1, 4.2) and the prefix of RFC 6265bis (4.1.3.2).
#include "server/access/cookie.hpp"

#include "server/access/secrets.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::access;

TEST_CASE("the token is found among cookies, whole or not at all", "[access]") {
  const auto token = random_token();
  REQUIRE(token.size() == 43);
  CHECK(session_token("__Host-cellarer=" + token) == token);
  CHECK(session_token("a=b; __Host-cellarer=" + token + "; c=d") == token);
  CHECK(session_token("a=b;__Host-cellarer=" + token) == token);
  CHECK_FALSE(session_token(""));
  CHECK_FALSE(session_token("cellarer=" + token));
  CHECK_FALSE(session_token("x__Host-cellarer=" + token));
  CHECK_FALSE(session_token("__host-cellarer=" + token));
  CHECK_FALSE(session_token("__Host-cellarer=" + token.substr(1)));
  CHECK_FALSE(session_token("__Host-cellarer=" + token + "A"));
  CHECK_FALSE(session_token("__Host-cellarer=\"" + token + "\""));
  CHECK_FALSE(session_token("__Host-cellarer"));
  CHECK_FALSE(session_token(";;;=;==;"));
}

TEST_CASE("two different tokens are none: nobody slips a second one in", "[access]") {
  const auto one = random_token(), other = random_token();
  CHECK_FALSE(session_token("__Host-cellarer=" + one + "; __Host-cellarer=" + other));
  CHECK(session_token("__Host-cellarer=" + one + "; __Host-cellarer=" + one) == one);
}

TEST_CASE("the cookie has every attribute that its prefix asks for, and no domain", "[access]") {
  CHECK(set_cookie({"abc", std::chrono::hours(1)}) ==
        "__Host-cellarer=abc; Path=/; Secure; HttpOnly; SameSite=Strict; Max-Age=3600");
  CHECK(end_cookie() == "__Host-cellarer=; Path=/; Secure; HttpOnly; SameSite=Strict; Max-Age=0");
}
