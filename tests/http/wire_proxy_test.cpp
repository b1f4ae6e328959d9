// SPDX-License-Identifier: MIT
// Behind a proxy that brings TLS: what it says is heard from a trusted address alone, and the public name is answered
// to only by its way. The clients' addresses are those of loopback (127/8).
#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

const json behind{{"public_address", "https://cells.test"}, {"proxy", {{"trusted", {"127.0.0.2", "127.7.0.0/16"}}}}};

std::string ask(const Service& service, const std::string& from, const std::string& host,
                const std::string& fields = "") {
  RawConnection connection(service.port(), from);
  connection.send("GET /api/v1/health HTTP/1.1\r\nHost: " + host + "\r\n" + fields + "Connection: close\r\n\r\n");
  return connection.read_all();
}
bool is_answered(const std::string& answer) { return answer.find("HTTP/1.1 200 ") == 0; }
bool is_refused(const std::string& answer) { return answer.find("HTTP/1.1 400 ") == 0; }

const std::string https = "X-Forwarded-For: 192.0.2.7\r\nX-Forwarded-Proto: https\r\n";
const std::string http = "X-Forwarded-For: 192.0.2.7\r\nX-Forwarded-Proto: http\r\n";

}  // namespace

TEST_CASE("the public name is answered by way of a trusted proxy that brings TLS, and told to stay with it", "[http]") {
  const Service service(behind);
  for (const char* proxy : {"127.0.0.2", "127.7.1.9"}) {
    const auto answer = ask(service, proxy, "cells.test", https);
    CHECK(is_answered(answer));
    CHECK(fields_of(answer).count("strict-transport-security") == 1);
    CHECK(is_answered(ask(service, proxy, "Cells.Test:443", https)));
  }
}

TEST_CASE("the public name is not answered in the clear, nor from an address that is not trusted", "[http]") {
  const Service service(behind);
  CHECK(is_refused(ask(service, "127.0.0.2", "cells.test")));
  CHECK(is_refused(ask(service, "127.0.0.2", "cells.test", http)));
  CHECK(is_refused(ask(service, "127.0.0.2", "cells.test", http + http)));
  CHECK(is_refused(ask(service, "127.0.0.3", "cells.test", https)));
  CHECK(is_refused(ask(service, "127.0.0.2", "cells.test", "Forwarded: for=192.0.2.7;proto=https\r\n")));
}

TEST_CASE("another name is answered by no way, with a public name too", "[http]") {
  const Service service(behind);
  for (const char* host :
       {"rebound.test", "cells.test.rebound.test", "127.0.0.1.rebound.test", "cells.test.", "[::", ""})
    CHECK(is_refused(ask(service, "127.0.0.2", host, https)));
  CHECK(is_refused(ask(service, "127.0.0.1", "rebound.test")));
  CHECK(is_answered(ask(service, "127.0.0.1", "127.0.0.1")));
  CHECK(fields_of(ask(service, "127.0.0.1", "127.0.0.1")).count("strict-transport-security") == 0);
}

TEST_CASE("Forwarded (RFC 7239) is heard instead where the configuration says so", "[http]") {
  json config = behind;
  config["proxy"]["header"] = "forwarded";
  const Service service(config);
  CHECK(is_answered(ask(service, "127.0.0.2", "cells.test", "Forwarded: for=192.0.2.7;proto=https\r\n")));
  CHECK(is_refused(ask(service, "127.0.0.2", "cells.test", https)));
}

TEST_CASE("with a named proxy it may listen beyond loopback", "[http]") {
  const Service service(behind, "", {"--host", "0.0.0.0"});
  CHECK(is_answered(ask(service, "127.0.0.2", "cells.test", https)));
}
