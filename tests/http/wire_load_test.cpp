// SPDX-License-Identifier: MIT
// Clients that hold on, come in crowds or never read: each is answered or dropped within its limits, and another is
// served all the while.
#include <atomic>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

const std::string ask_health = "GET /api/v1/health HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n";
const std::string half_header = "GET /api/v1/health HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: ";
const std::string half_body =
    "POST /api/v1/households HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: "
    "60000\r\n\r\n{";

bool is_served(RawConnection& connection) {
  return connection.send(ask_health) && connection.read_until("alive").find("HTTP/1.1 200 ") == 0;
}
/// A client that comes anew.
bool is_served(const Service& service) {
  RawConnection connection(service.port());
  return is_served(connection);
}

}  // namespace

TEST_CASE("headers and bodies that come a byte at a time are ended at their limit, others served", "[http]") {
  const Service service(json{{"limits", {{"header_s", 1}, {"body_s", 1}}}});
  std::vector<RawConnection> slow;
  for (int i = 0; i < 40; ++i) {
    slow.emplace_back(service.port());
    REQUIRE(slow.back().send(i % 2 == 0 ? half_header : half_body));
  }
  int dripped = 0;
  while (slow.front().send("x") && slow[1].send(" ") && ++dripped < 1000) {  // ends when the service closes one
    for (auto& connection : slow) connection.send(" ");
    REQUIRE(is_served(service));
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  CHECK(dripped < 1000);
  for (auto& connection : slow) {
    const auto answer = connection.read_all();
    CHECK((answer.empty() || answer.find("HTTP/1.1 408 ") == 0));  // a byte sent too late may cost the answer
    CHECK(connection.is_closed());
  }
}

TEST_CASE("two thousand idle connections are held while others are served", "[http]") {
  constexpr std::size_t crowd = 2000;
  REQUIRE(allow_open_files(crowd + 200));
  const Service service(json{{"limits", {{"connections", crowd + 10}, {"address_connections", crowd}}}});
  RawConnection known(service.port());
  REQUIRE(is_served(known));
  std::vector<RawConnection> idle;
  for (std::size_t i = 0; i < crowd; ++i) {
    idle.emplace_back(service.port(), "127.0.0.2");
    if (i % 100 == 0) REQUIRE(is_served(known));
  }
  CHECK(is_served(service));
  for (const std::size_t i : {std::size_t{0}, crowd / 2, crowd - 1}) CHECK(is_served(idle[i]));
}

TEST_CASE("a crowd beyond the limit is let in at the cost of those that have waited longest", "[http]") {
  const Service service(json{{"limits", {{"connections", 100}, {"address_connections", 100}}}});
  std::vector<RawConnection> crowd;
  for (int i = 0; i < 500; ++i) {
    crowd.emplace_back(service.port());
    if (i % 50 == 0) REQUIRE(is_served(service));
  }
  CHECK(is_served(crowd.back()));
  CHECK(crowd.front().read_all().empty());
  CHECK(crowd.front().is_closed());
}

TEST_CASE("one address cannot take all connections", "[http]") {
  const Service service(json{{"limits", {{"connections", 40}, {"address_connections", 20}}}});
  std::vector<RawConnection> greedy;  // each in the midst of a request, so that none can be closed for another
  for (int i = 0; i < 20; ++i) {
    greedy.emplace_back(service.port(), "127.0.0.2");
    REQUIRE(begin_request(greedy.back()));
  }
  const auto refused = RawConnection(service.port(), "127.0.0.2").read_all();
  CHECK(refused.find("HTTP/1.1 503 ") == 0);
  CHECK(refused.find("/problems/busy") != std::string::npos);
  for (int i = 0; i < 5; ++i) CHECK(is_served(service));
  for (auto& connection : greedy) CHECK(finish_request(connection));
}

TEST_CASE("a trusted proxy may bring as many as come", "[http]") {
  const Service service(
      json{{"proxy", {{"trusted", {"127.0.0.2"}}}}, {"limits", {{"connections", 40}, {"address_connections", 4}}}});
  std::vector<RawConnection> brought;
  for (int i = 0; i < 20; ++i) {
    brought.emplace_back(service.port(), "127.0.0.2");
    REQUIRE(begin_request(brought.back()));
  }
  for (auto& connection : brought) CHECK(finish_request(connection));
}

TEST_CASE("a thousand requests in one packet are answered in order, one at a time, others served", "[http]") {
  const Service service;
  std::string packet;
  for (int i = 0; i < 999; ++i) packet += ask_health;
  packet += "GET /api/v1/ready HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n";
  RawConnection greedy(service.port());
  REQUIRE(greedy.send(packet));
  for (int i = 0; i < 20; ++i) REQUIRE(is_served(service));
  const auto answers = greedy.read_all();
  CHECK(times(answers, "HTTP/1.1 200 OK\r\n") == 1000);
  CHECK(answers.find("\"ready\"") > answers.rfind("\"alive\""));
}

TEST_CASE("a client that asks and asks and never reads is dropped, others served", "[http]") {
  const Service service(json{{"limits", {{"write_s", 1}}}});
  RawConnection deaf(service.port());
  std::string packet;
  for (int i = 0; i < 1000; ++i) packet += "GET /api/v1/openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n";
  REQUIRE(deaf.send(packet));
  std::string log;
  for (int tries = 0; tries < 400 && log.find("not taken") == std::string::npos; ++tries) {
    REQUIRE(is_served(service));
    log = service.log();
    std::this_thread::sleep_for(std::chrono::milliseconds(25));
  }
  CHECK(log.find("/api/v1/openapi.json status=200") != std::string::npos);
  CHECK(log.find("not taken") != std::string::npos);
  CHECK(times(deaf.read_all(), "HTTP/1.1 200 OK\r\n") < 1000);
}

TEST_CASE("a connection is not cut in the midst of a request, nor as soon as the time it was told is up", "[http]") {
  const Service service(json{{"limits", {{"idle_s", 2}}}});
  RawConnection half(service.port()), late(service.port());
  REQUIRE(late.send(ask_health));
  CHECK(fields_of(late.read_until("alive")).at("keep-alive") == "timeout=2");
  REQUIRE(half.send(half_header));
  std::this_thread::sleep_for(std::chrono::milliseconds(2300));
  CHECK(is_served(late));
  std::this_thread::sleep_for(std::chrono::milliseconds(2300));
  REQUIRE(half.send("a\r\n\r\n"));
  CHECK(half.read_until("alive").find("HTTP/1.1 200 ") == 0);
  CHECK(late.read_all().empty());
  CHECK(late.is_closed());
}
