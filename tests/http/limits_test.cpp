// SPDX-License-Identifier: MIT
// The limits of server/config.hpp, each by going over it.
#include <sys/socket.h>

#include <chrono>

#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {
const std::string readings = "/api/v1/households/h-1/readings";
const std::string line = "GET /api/v1/health HTTP/1.1\r\nHost: 127.0.0.1\r\n";
}  // namespace

TEST_CASE("a body over the limit is a 413, whether it says its length or not", "[http]") {
  Service service(json{{"limits", {{"body_bytes", 2048}}}});
  HttpClient client(service.port());
  const std::string large(5000, ' ');
  CHECK(client.send("POST", readings, large, {"Expect:"}).status == 413);
  CHECK(client.send("POST", readings, large, {"Expect:"}).problem() == "body-too-large");
  const auto chunked = raw_exchange(service.port(),
                                    "POST " + readings +
                                        " HTTP/1.1\r\nHost: 127.0.0.1\r\nTransfer-Encoding: chunked\r\n\r\n"
                                        "1388\r\n" +
                                        large + "\r\n0\r\n\r\n",
                                    3000);
  CHECK(chunked.find("HTTP/1.1 413 ") == 0);
  CHECK(client.get("/api/v1/health").status == 200);
}

TEST_CASE("an address over the limit is a 414, header fields over it a 431", "[http]") {
  Service service(json{{"limits", {{"header_bytes", 4096}, {"target_bytes", 1024}}}});
  HttpClient client(service.port());
  CHECK(client.get("/api/v1/health?" + std::string(2000, 'a')).status == 414);
  CHECK(client.get("/api/v1/health?" + std::string(9000, 'a')).status == 414);
  CHECK(client.get("/api/v1/health", {"X-Large: " + std::string(9000, 'a')}).status == 431);
  CHECK(client.get("/api/v1/health", {"X-Large: " + std::string(9000, 'a')}).problem() == "header-too-large");
}

TEST_CASE("a header or a body that does not arrive in time is a 408", "[http]") {
  Service service(json{{"limits", {{"header_s", 1}, {"body_s", 1}}}});
  CHECK(raw_exchange(service.port(), line, 5000).find("HTTP/1.1 408 ") == 0);
  CHECK(raw_exchange(service.port(),
                     "POST " + readings + " HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 50\r\n\r\n{\"at\"", 5000)
            .find("HTTP/1.1 408 ") == 0);
}

TEST_CASE("a connection on which nothing comes is closed without an answer", "[http]") {
  Service service(json{{"limits", {{"idle_s", 1}}}});
  const auto began = std::chrono::steady_clock::now();
  CHECK(raw_exchange(service.port(), "", 10'000).empty());
  CHECK(std::chrono::steady_clock::now() - began < std::chrono::seconds(9));
}

TEST_CASE("connections over the limit are told so with 503 where all are at work, and those go on", "[http]") {
  Service service(json{{"limits", {{"connections", 3}}}});
  std::vector<RawConnection> at_work;
  for (int i = 0; i < 3; ++i) {
    at_work.emplace_back(service.port());
    REQUIRE(begin_request(at_work.back()));
  }
  const auto refused = raw_exchange(service.port(), line + "\r\n", 5000);
  CHECK(refused.find("HTTP/1.1 503 ") == 0);
  CHECK(refused.find("Retry-After:") != std::string::npos);
  CHECK(refused.find("/problems/busy") != std::string::npos);
  for (auto& connection : at_work) CHECK(finish_request(connection));
}

TEST_CASE("what is no HTTP, or half of it, does not disturb the service", "[http]") {
  Service service;
  CHECK(raw_exchange(service.port(), "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03 hello\r\n\r\n", 3000)
            .find("HTTP/1.1 400 ") == 0);
  CHECK(
      raw_exchange(service.port(), "GET /api/v1/health HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: x\r\n\r\n", 3000)
          .find("HTTP/1.1 400 ") == 0);
  CHECK(raw_exchange(service.port(), "GET /%zz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", 1000).find("HTTP/1.1 400 ") == 0);
  CHECK(HttpClient(service.port()).get("/api/v1/health").status == 200);
}

TEST_CASE("several requests on one connection are answered in their order", "[http]") {
  Service service;
  const auto both =
      raw_exchange(service.port(),
                   line + "\r\n" + "GET /api/v1/ready HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n", 5000);
  const auto alive = both.find("alive"), ready = both.find("ready\"");
  CHECK(alive != std::string::npos);
  CHECK(ready != std::string::npos);
  CHECK(alive < ready);
}

TEST_CASE("another host's name in the request is refused", "[http]") {
  Service service;
  HttpClient client(service.port());
  CHECK(client.get("/api/v1/health", {"Host: rebound.example"}).status == 400);
  CHECK(client.get("/api/v1/health", {"Host: localhost:8080"}).status == 200);
}
