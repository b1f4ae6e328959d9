// SPDX-License-Identifier: MIT
// Attempts by address: twenty at once, then one every six seconds (server/access/throttle.hpp).
#include "server/access/throttle.hpp"

#include "server/access/challenges.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::access;
using namespace std::chrono_literals;

TEST_CASE("twenty attempts at once, then ten a minute; another address is another count", "[access]") {
  FakeClock clock{Instant(1'800'000'000s)};
  Throttle throttle(clock);
  for (int i = 0; i < 20; ++i) CHECK_FALSE(throttle.attempt("192.0.2.1"));
  CHECK(throttle.attempt("192.0.2.1") == 6);
  CHECK_FALSE(throttle.attempt("192.0.2.2"));
  clock.advance(5s);
  CHECK(throttle.attempt("192.0.2.1") == 1);
  clock.advance(1s);
  CHECK_FALSE(throttle.attempt("192.0.2.1"));
  CHECK(throttle.attempt("192.0.2.1"));
  clock.advance(60s);
  int passed = 0;
  while (!throttle.attempt("192.0.2.1")) ++passed;
  CHECK(passed == 10);
}

TEST_CASE("an attempt that succeeds is not counted; a clock that is set back opens nothing and locks nobody",
          "[access]") {
  FakeClock clock{Instant(1'800'000'000s)};
  Throttle throttle(clock);
  for (int i = 0; i < 100; ++i) {
    CHECK_FALSE(throttle.attempt("192.0.2.1"));
    throttle.forgive("192.0.2.1");
  }
  while (!throttle.attempt("192.0.2.1")) {
  }
  clock.advance(-1h);
  CHECK(throttle.attempt("192.0.2.1"));
  clock.advance(10s);
  CHECK_FALSE(throttle.attempt("192.0.2.1"));
}

TEST_CASE("an IPv6 network of 64 bits is one address", "[access]") {
  FakeClock clock{Instant(1'800'000'000s)};
  Throttle throttle(clock);
  for (int i = 0; i < 20; ++i) CHECK_FALSE(throttle.attempt("2001:db8:0:1::" + std::to_string(i)));
  CHECK(throttle.attempt("2001:db8:0:1::ffff"));
  CHECK_FALSE(throttle.attempt("2001:db8:0:2::1"));
}

TEST_CASE("with more addresses than can be held, those beyond share one count, and those held keep theirs",
          "[access]") {
  FakeClock clock{Instant(1'800'000'000s)};
  Throttle throttle(clock);
  for (int i = 0; i < 20'000; ++i) CHECK_FALSE(throttle.attempt("held " + std::to_string(i)));
  int passed = 0;
  for (int i = 0; i < 100; ++i) passed += throttle.attempt("beyond " + std::to_string(i)) ? 0 : 1;
  CHECK(passed == 20);
  CHECK_FALSE(throttle.attempt("held 7"));
  clock.advance(60s);
  CHECK_FALSE(throttle.attempt("after a minute"));
}

TEST_CASE("a challenge is good once, for five minutes, for what it was issued", "[access]") {
  FakeClock clock{Instant(1'800'000'000s)};
  Challenges challenges(clock);
  const auto one = challenges.issue("sign-in"), other = challenges.issue("sign-in");
  CHECK(one.size() == 43);
  CHECK(one != other);
  CHECK_FALSE(challenges.take(one, "account a"));
  CHECK(challenges.take(one, "sign-in"));
  CHECK_FALSE(challenges.take(one, "sign-in"));
  auto forged = other;
  forged[3] = forged[3] == 'A' ? 'B' : 'A';
  CHECK_FALSE(challenges.take(forged, "sign-in"));
  CHECK_FALSE(challenges.take("", "sign-in"));
  CHECK_FALSE(Challenges(clock).take(other, "sign-in"));
  clock.advance(5min);
  CHECK_FALSE(challenges.take(other, "sign-in"));
}
