// SPDX-License-Identifier: MIT
// A request that comes again byte for byte is answered from what was worked out before. Nothing of what may have
// changed in between may be missed by that.
#include <set>

#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;

namespace {

const std::string forecast = "/api/v1/households/h-1/forecast";
const std::vector<std::string> packed{"Accept-Encoding: gzip"};

/// The same question three times: the last answer was given from what is known.
Answer third_of(HttpClient& client, const std::string& path, const std::vector<std::string>& headers = {}) {
  client.get(path, headers);
  client.get(path, headers);
  return client.get(path, headers);
}

}  // namespace

TEST_CASE("a request that comes again gets the same answer, with a name of its own", "[http]") {
  Home at;
  auto first = at.client.get(forecast), again = third_of(at.client, forecast);
  CHECK(again.status == 200);
  CHECK(again.body == first.body);
  CHECK(again.headers.at("x-request-id") != first.headers.at("x-request-id"));
  for (auto* answer : {&first, &again}) {
    answer->headers.erase("x-request-id");
    answer->headers.erase("date");
  }
  CHECK(again.headers == first.headers);
  CHECK(third_of(at.client, forecast, packed).headers.at("content-encoding") == "gzip");
  CHECK(third_of(at.client, forecast, {"If-None-Match: " + first.headers.at("etag")}).status == 304);
  CHECK(at.client.send("HEAD", forecast).body.empty());
  at.service.terminate();
  CHECK(times(at.service.log(), "GET " + forecast + " status=200") == 7);
  CHECK(times(at.service.log(), "GET " + forecast + " status=304") == 3);
}

TEST_CASE("a write is seen by the next request, however often it came before", "[http]") {
  Home at;
  std::set<std::string> tags{third_of(at.client, forecast).headers.at("etag")};
  for (int percent : {80, 70, 60}) {
    at.client.post("/api/v1/households/h-1/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", percent}});
    tags.insert(at.client.get(forecast).headers.at("etag"));
    CHECK(third_of(at.client, forecast).status == 200);
  }
  CHECK(tags.size() == 4);
}

TEST_CASE("who was signed out, and a household that was erased, are known no more", "[http]") {
  Home at;
  const auto cookie = at.service.let_in({"--role", "household", "--household", "h-1", "--label", "Kitchen phone"});
  HttpClient phone(at.service.port(), cookie), same_phone(at.service.port(), cookie);
  CHECK(third_of(phone, forecast).status == 200);
  CHECK(same_phone.send("DELETE", "/api/v1/session").status == 204);
  CHECK(phone.get(forecast).status == 401);
  CHECK(third_of(at.client, forecast).status == 200);
  CHECK(at.client.post("/api/v1/households/h-1/erase", {{"erase", "h-1"}}).status == 200);
  CHECK(at.client.get(forecast).status == 404);
}

TEST_CASE("requests that come together on one connection are each answered, in their order", "[http]") {
  Home at;
  CHECK(third_of(at.client, forecast).status == 200);
  RawConnection connection(at.service.port());
  const std::string fields = " HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: " + at.client.cookie() + "\r\n";
  const std::string known = "GET " + forecast + fields + "\r\n";
  connection.send(known + known + known + "GET /api/v1/health" + fields + "Connection: close\r\n\r\n");
  const auto all = connection.read_all();
  CHECK(times(all, "HTTP/1.1 200 OK") == 4);
  CHECK(times(all, "\"household\":\"h-1\"") == 3);
  CHECK(times(all, "Connection: close") == 1);
}
