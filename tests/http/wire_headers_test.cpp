// SPDX-License-Identifier: MIT
// What answers tell a browser and a cache, and what the log tells whoever reads it. The fields are those of OWASP's
// Secure Headers list (from memory).
#include <zlib.h>

#include <sstream>

#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {
/// What zlib makes of a gzip body.
std::string unpacked(const std::string& body) {
  z_stream stream{};
  inflateInit2(&stream, 15 + 16);
  std::string plain(1 << 20, '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(body.data()));
  stream.avail_in = static_cast<uInt>(body.size());
  stream.next_out = reinterpret_cast<Bytef*>(plain.data());
  stream.avail_out = static_cast<uInt>(plain.size());
  const bool whole = inflate(&stream, Z_FINISH) == Z_STREAM_END;
  plain.resize(whole ? stream.total_out : 0);
  inflateEnd(&stream);
  return plain;
}
}  // namespace

TEST_CASE("every answer, refusals too, carries the fields that protect a browser", "[http]") {
  const Service service;
  const std::string host = "Host: 127.0.0.1\r\nConnection: close\r\n\r\n";
  for (const std::string line : {"GET /api/v1/health HTTP/1.1\r\n", "GET / HTTP/1.1\r\n", "GET /nothing HTTP/1.1\r\n",
                                 "TRACE / HTTP/1.1\r\n", "GET /%zz HTTP/1.1\r\n", "nonsense\r\n"}) {
    INFO(line);
    RawConnection connection(service.port());
    connection.send(line + host);
    const auto fields = fields_of(connection.read_all());
    const auto& policy = fields.at("content-security-policy");
    CHECK(policy.find("default-src 'none'") == 0);
    CHECK(policy.find("frame-ancestors 'none'") != std::string::npos);
    CHECK(policy.find("unsafe") == std::string::npos);
    CHECK(fields.at("x-content-type-options") == "nosniff");
    CHECK(fields.at("x-frame-options") == "DENY");
    CHECK(fields.at("referrer-policy") == "no-referrer");
    CHECK(fields.at("cross-origin-opener-policy") == "same-origin");
    CHECK(fields.at("cross-origin-embedder-policy") == "require-corp");
    CHECK(fields.at("cross-origin-resource-policy") == "same-origin");
    CHECK(fields.at("x-permitted-cross-domain-policies") == "none");
    CHECK(fields.count("permissions-policy") == 1);
    CHECK(fields.count("cache-control") == 1);
    CHECK(fields.count("server") == 0);
    CHECK(fields.count("x-powered-by") == 0);
  }
}

TEST_CASE("what is private is kept by no cache, but for one's own and asked for again", "[http]") {
  Home at;
  CHECK(at.client.get("/api/v1/households/h-1/forecast").headers.at("cache-control") == "private, no-cache");
  CHECK(at.client.get("/api/v1/households/unknown/forecast").headers.at("cache-control") == "no-store");
  const auto written =
      at.client.post("/api/v1/households/h-1/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}});
  CHECK(written.status == 201);
  CHECK(written.headers.at("cache-control") == "no-store");
}

TEST_CASE("what is kept is sent compressed where the client takes it, and what is made for one is not", "[http]") {
  Home at;
  const std::string forecast = "/api/v1/households/h-1/forecast";
  const auto plain = at.client.get(forecast);
  const auto packed = at.client.get(forecast, {"Accept-Encoding: br, gzip"});
  CHECK(packed.headers.at("content-encoding") == "gzip");
  CHECK(packed.headers.at("vary") == "Accept-Encoding");
  CHECK(packed.headers.at("etag") == "W/" + plain.headers.at("etag"));
  CHECK(plain.headers.count("content-encoding") == 0);
  CHECK(2 * packed.body.size() < plain.body.size());
  CHECK(unpacked(packed.body) == plain.body);
  CHECK(at.client.get(forecast, {"Accept-Encoding: gzip", "If-None-Match: " + packed.headers.at("etag")}).status ==
        304);
  CHECK(at.client.get(forecast, {"Accept-Encoding: gzip;q=0"}).headers.count("content-encoding") == 0);
  const auto entries = at.client.get("/api/v1/households/h-1/entries", {"Accept-Encoding: gzip"});
  CHECK(entries.headers.count("content-encoding") == 0);
}

TEST_CASE("the log names requests and holds no cookie, code, key or query, as text or as JSON", "[http]") {
  Service service;
  RawConnection connection(service.port());
  const std::string body = R"({"code": "secret-code"})";
  connection.send(
      "POST /api/v1/sign-in?token=secret-query HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: "
      "__Host-cellarer=secret-cookie\r\nAuthorization: Bearer secret-bearer\r\nIdempotency-Key: "
      "secret-key\r\nContent-Type: application/json\r\nContent-Length: " +
      std::to_string(body.size()) + "\r\n\r\n" + body);
  const auto answer = connection.read_until("\r\n\r\n");
  CHECK(answer.find("HTTP/1.1 ") == 0);
  const std::string field = "\r\nX-Request-Id: ";
  const auto from = answer.find(field) + field.size();
  const auto request_id = answer.substr(from, answer.find("\r\n", from) - from);
  RawConnection forger(service.port());
  forger.send("GET /a\",\"level\":\"critical HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n");
  forger.read_all();
  service.terminate();
  CHECK(service.log().find("request=" + request_id + " POST /api/v1/sign-in status=") != std::string::npos);
  CHECK(service.log().find("secret") == std::string::npos);
  std::istringstream lines(service.log());
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    REQUIRE(json::accept(line));
    CHECK(json::parse(line)["level"] != "critical");
  }
}
