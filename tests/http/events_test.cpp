// SPDX-License-Identifier: MIT
// Server-sent events as the WHATWG's HTML standard has them (9.2), in chunks as RFC 9112 has them (7.1): two phones of
// a home agree within 2 s.
#include <chrono>

#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

std::string request(const std::string& cookie, const std::string& more = "", const std::string& version = "1.1") {
  return "GET " + at_home + "/events HTTP/" + version + "\r\nHost: 127.0.0.1\r\nCookie: " + cookie + "\r\n" + more +
         "\r\n";
}

json quick(json limits = json::object()) {
  limits["heartbeat_s"] = 1;
  return {{"limits", limits}};
}

long note_reading(HttpClient& client, int percent) {
  const json body{{"at", from_now(-60)}, {"side", "left"}, {"percent", percent}, {"condition", "pacing"}};
  const auto answer = client.post(at_home + "/readings", body);
  REQUIRE(answer.status == 201);
  return answer.json()["entry"]["id"];
}

double seconds_since(std::chrono::steady_clock::time_point then) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - then).count();
}

}  // namespace

TEST_CASE("what one phone records another hears of within two seconds, in events of the standard's form",
          "[http][alone]") {
  Home at;
  RawConnection listening(at.service.port());
  REQUIRE(listening.send(request(at.client.cookie())));
  const auto begin = listening.read_until("\n\n\r\n");
  const auto fields = fields_of(begin);
  CHECK(begin.starts_with("HTTP/1.1 200 "));
  CHECK(fields.at("content-type") == "text/event-stream");
  CHECK(fields.at("transfer-encoding") == "chunked");
  CHECK(fields.at("cache-control") == "no-store");
  CHECK(fields.count("content-length") == 0);
  CHECK(begin.find("retry: ") != std::string::npos);

  const auto now = std::chrono::steady_clock::now();
  const auto number = std::to_string(note_reading(at.client, 71));
  const auto event = "id: " + number + "\nevent: entry\ndata: {\"entry\":" + number + "}\n\n";
  const auto heard = listening.read_until(event, 3000);
  CHECK(heard.find(event) != std::string::npos);
  CHECK(seconds_since(now) < 2);
}

TEST_CASE("a page that comes back with the last number hears only what it missed", "[http]") {
  Home at;
  const auto known = std::to_string(note_reading(at.client, 71));
  RawConnection again(at.service.port());
  REQUIRE(again.send(request(at.client.cookie(), "Last-Event-ID: " + known + "\r\n")));
  CHECK(again.read_until("retry: 3000\n\n").find("event: entry") == std::string::npos);
  const auto newer = std::to_string(note_reading(at.client, 70));
  CHECK(again.read_until("id: " + newer + "\n").find("id: " + newer + "\n") != std::string::npos);
  RawConnection late(at.service.port());
  REQUIRE(late.send(request(at.client.cookie(), "Last-Event-ID: " + known + "\r\n")));
  CHECK(late.read_until("id: " + newer + "\n").find("id: " + newer + "\n") != std::string::npos);
}

TEST_CASE("a silent stream shows now and then that it lives, and ends with its session", "[http]") {
  Home at(quick());
  const auto phone = at.service.let_in({"--role", "household", "--household", "h-1", "--label", "Phone"});
  HttpClient client(at.service.port(), phone);
  RawConnection listening(at.service.port());
  REQUIRE(listening.send(request(phone)));
  CHECK(listening.read_until("\r\n:\n\n\r\n", 5000).find("\r\n:\n\n\r\n") != std::string::npos);
  REQUIRE(client.send("DELETE", "/api/v1/session").status == 204);
  const auto rest = listening.read_all(5000);
  CHECK(listening.is_closed());
  CHECK(rest.ends_with("0\r\n\r\n"));  // the last chunk: nothing was cut off
}

TEST_CASE("nobody hears of a household that is not theirs", "[http]") {
  Home at;
  RawConnection nobody(at.service.port());
  REQUIRE(nobody.send(request("")));
  CHECK(nobody.read_until("}").starts_with("HTTP/1.1 401 "));
  HttpClient client(at.service.port());
  REQUIRE(
      client.post("/api/v1/households", {{"household", "h-2"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}})
          .status == 201);
  const auto next_door = at.service.let_in({"--role", "household", "--household", "h-2", "--label", "Next door"});
  RawConnection neighbour(at.service.port());
  REQUIRE(neighbour.send(request(next_door)));
  CHECK(neighbour.read_until("}").starts_with("HTTP/1.1 404 "));
}

TEST_CASE("streams have their number, of one address and in all; one that ends makes room", "[http]") {
  Home at(quick({{"event_streams", 3}, {"address_event_streams", 2}}));
  const auto answer = [&](RawConnection& connection) {
    REQUIRE(connection.send(request(at.client.cookie())));
    return connection.read_until("\r\n").substr(9, 3);
  };
  RawConnection third(at.service.port()), fourth(at.service.port(), "127.0.0.2"), fifth(at.service.port(), "127.0.0.3");
  {
    RawConnection first(at.service.port()), second(at.service.port());
    CHECK(answer(first) == "200");
    CHECK(answer(second) == "200");
    CHECK(answer(third) == "503");
    CHECK(answer(fourth) == "200");
    CHECK(answer(fifth) == "503");
  }
  std::string later;
  for (int tries = 0; later != "200" && tries < 200; ++tries) {  // until it is noticed that they have gone
    RawConnection again(at.service.port());
    later = answer(again);
  }
  CHECK(later == "200");
}

TEST_CASE("the service ends in order although pages listen, and each hears the end", "[http]") {
  Home at;
  RawConnection listening(at.service.port());
  REQUIRE(listening.send(request(at.client.cookie())));
  listening.read_until("\n\n\r\n");
  const auto now = std::chrono::steady_clock::now();
  CHECK(at.service.terminate() == 0);
  CHECK(seconds_since(now) < 5);
  CHECK(listening.read_all().ends_with("0\r\n\r\n"));
}

TEST_CASE("a client of HTTP/1.0, which knows no chunks, gets the events as they are", "[http]") {
  Home at(quick());
  RawConnection old(at.service.port());
  REQUIRE(old.send(request(at.client.cookie(), "", "1.0")));
  const auto begin = old.read_until("}\n\n");
  CHECK(fields_of(begin).count("transfer-encoding") == 0);
  CHECK(begin.find("\r\n\r\nretry: 3000\n\nid: ") != std::string::npos);
}
