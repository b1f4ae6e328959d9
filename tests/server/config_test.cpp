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
  CHECK(config.backup.folder.empty());
  const nlohmann::json backup{{"backup", {{"folder", "b"}, {"key_file", "k"}, {"every_h", 6}}}};
  read_config(Field(backup, ""), config);
  CHECK(config.backup.folder == "b");
  CHECK(config.backup.every_h == 6);
  CHECK(config.backup.keep_days == 30);
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
  CHECK(place({{"tls", {{"certificate", "c.pem"}}}}) == "/tls/key");
  CHECK(place({{"proxy", {{"trusted", nlohmann::json::array()}}}}) == "/proxy/trusted");
  CHECK(place({{"proxy", {{"trusted", {"10.0.0.0/8", "10.0.0.300"}}}}}) == "/proxy/trusted/1");
  CHECK(place({{"proxy", {{"trusted", {"::1"}}, {"header", "via"}}}}) == "/proxy/header");
  CHECK(place({{"backup", {{"folder", "b"}}}}) == "/backup/key_file");
  CHECK(place({{"backup", {{"folder", "b"}, {"key_file", "k"}, {"keep_days", 0}}}}) == "/backup/keep_days");
}

namespace {
Config on(const std::string& host, const std::string& public_address = "") {
  Config config;
  config.host = host;
  config.public_address = public_address;
  return config;
}
}  // namespace

TEST_CASE("loopback is always taken (RFC 1122: 127/8; RFC 4291: ::1), anything else not in the clear", "[config]") {
  for (const char* host : {"127.0.0.1", "127.8.8.8", "::1", "localhost"}) {
    INFO(host);
    CHECK_NOTHROW(require_protected_reach(on(host)));
    CHECK_NOTHROW(require_protected_reach(on(host, "http://localhost:8080")));
    CHECK_THROWS_AS(require_protected_reach(on(host, "https://cells.example.org")), std::invalid_argument);
  }
  for (const char* host : {"0.0.0.0", "::", "10.0.0.1", "128.0.0.1", "example.org", ""}) {
    INFO(host);
    CHECK_THROWS_AS(require_protected_reach(on(host)), std::invalid_argument);
    CHECK_THROWS_AS(require_protected_reach(on(host, "https://cells.example.org")), std::invalid_argument);
  }
}

TEST_CASE("with TLS or a named proxy, and a public name over https, it may listen beyond loopback", "[config]") {
  Config tls = on("0.0.0.0", "https://cells.example.org");
  tls.tls.certificate = "certificate.pem";
  Config proxy = on("::", "https://cells.example.org");
  proxy.proxy.trusted = {"10.0.0.0/8"};
  for (Config* config : {&tls, &proxy}) {
    CHECK_NOTHROW(require_protected_reach(*config));
    for (const char* address : {"", "http://cells.example.org", "https://localhost", "cells.example.org"}) {
      INFO(address);
      config->public_address = address;
      CHECK_THROWS_AS(require_protected_reach(*config), std::invalid_argument);
    }
  }
}

TEST_CASE("the public name is the host of the public address", "[config]") {
  CHECK(public_name("") == "");
  CHECK(public_name("https://Cells.Example.org") == "cells.example.org");
  CHECK(public_name("https://cells.example.org:8443/") == "cells.example.org");
  CHECK(public_name("http://localhost:8080") == "localhost");
  for (const char* address : {"cells.example.org", "ftp://cells.example.org", "https://", "https://a/b", "https://a@b"})
    CHECK_THROWS_AS(public_name(address), std::invalid_argument);
}

TEST_CASE("the fake clock stands still until it is moved", "[clock]") {
  FakeClock clock(Instant(std::chrono::seconds(100)));
  CHECK(clock.now() == clock.now());
  clock.advance(std::chrono::seconds(5));
  CHECK(clock.now() == Instant(std::chrono::seconds(105)));
  clock.set(Instant(std::chrono::seconds(7)));
  CHECK(clock.now() == Instant(std::chrono::seconds(7)));
}
