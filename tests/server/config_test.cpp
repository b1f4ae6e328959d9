// SPDX-License-Identifier: MIT
#include "server/config.hpp"

#include "server/clock.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using cellarer::json::Field;
using cellarer::json::Refused;

TEST_CASE("a configuration file overlays what it names and leaves the rest", "[config]") {
  const nlohmann::json file{{"port", 9000}, {"io_threads", 1}, {"limits", {{"body_bytes", 2048}}}};
  Config config;
  read_config(Field(file, ""), config);
  CHECK(config.port == 9000);
  CHECK(config.io_threads == 1);
  CHECK(config.limits.body_bytes == 2048);
  CHECK(config.limits.header_bytes == Limits{}.header_bytes);
  CHECK(config.host == "127.0.0.1");
}

TEST_CASE("a setting that is unknown, of the wrong type or out of range is refused at its place", "[config]") {
  const auto place = [](const nlohmann::json& file) -> std::string {
    Config config;
    try {
      read_config(Field(file, ""), config);
    } catch (const Refused& refused) {
      return refused.place();
    }
    return "not refused";
  };
  CHECK(place({{"prot", 9000}}) == "/prot");
  CHECK(place({{"port", 70000}}) == "/port");
  CHECK(place({{"limits", {{"header_s", 0}}}}) == "/limits/header_s");
  CHECK(place({{"limits", {{"headers", 5}}}}) == "/limits/headers");
  CHECK(place({{"limits", 5}}) == "/limits");
}

TEST_CASE("only loopback addresses are taken (RFC 1122: 127/8; RFC 4291: ::1)", "[config]") {
  for (const char* host : {"127.0.0.1", "127.8.8.8", "::1", "localhost"}) {
    INFO(host);
    CHECK_NOTHROW(require_loopback(host));
  }
  for (const char* host : {"0.0.0.0", "::", "10.0.0.1", "128.0.0.1", "example.org", ""}) {
    INFO(host);
    CHECK_THROWS_AS(require_loopback(host), std::invalid_argument);
  }
}

TEST_CASE("the fake clock stands still until it is moved", "[clock]") {
  FakeClock clock(Instant(std::chrono::seconds(100)));
  CHECK(clock.now() == clock.now());
  clock.advance(std::chrono::seconds(5));
  CHECK(clock.now() == Instant(std::chrono::seconds(105)));
  clock.set(Instant(std::chrono::seconds(7)));
  CHECK(clock.now() == Instant(std::chrono::seconds(7)));
}
