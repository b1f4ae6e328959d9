// SPDX-License-Identifier: MIT
// Addresses and methods, and the OpenAPI document held against the routes, both ways.
#include "tests/support/catch.hpp"
#include "tests/support/schema.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

const std::vector<std::string> methods{"get", "post", "put", "patch", "delete"};

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

/// A path with its parts filled in.
std::string filled(std::string path) {
  for (const auto& [part, value] : {std::pair{"{household}", "h-1"}, std::pair{"{stimulator}", "percent-power"}}) {
    const auto at = path.find(part);
    if (at != std::string::npos) path.replace(at, std::string(part).size(), value);
  }
  return path;
}

}  // namespace

TEST_CASE("every operation that OpenAPI names is there, and no other method is", "[http]") {
  Home at;
  const auto document = at.client.get("/api/v1/openapi.json").json();
  CHECK(document["openapi"] == "3.1.0");
  REQUIRE(document["paths"].size() > 20);
  for (const auto& [path, operations] : document["paths"].items()) {
    for (const auto& method : methods) {
      INFO(method << " " << path);
      const auto answer =
          at.client.send(upper(method), filled(path) + "?side=left", "", {"Idempotency-Key: " + new_key()});
      CHECK((answer.status == 405) == !operations.contains(method));
      CHECK(answer.status != 404);
      CHECK(answer.status < 500);
      if (method == "get" && operations.contains("get")) CHECK(answer.status == 200);
      if (method == "post" && operations.contains("post"))
        CHECK(operations["post"]["responses"].contains(std::to_string(answer.status)));
    }
    const auto allow = at.client.send("OPTIONS", filled(path)).headers.at("allow");
    for (const auto& method : methods) {
      CHECK((allow.find(upper(method)) != std::string::npos) == operations.contains(method));
    }
  }
}

TEST_CASE("every schema that OpenAPI refers to is in it", "[http]") {
  Service service;
  HttpClient client(service.port());
  const auto document = client.get("/api/v1/openapi.json").json();
  const auto& schemas = document["components"]["schemas"];
  std::size_t found = 0;
  const auto flat = document.flatten();
  for (const auto& [place, value] : flat.items()) {
    if (!place.ends_with("/$ref")) continue;
    const auto name = value.get<std::string>();
    INFO(place << " " << name);
    REQUIRE(name.starts_with("#/components/schemas/"));
    CHECK(schemas.contains(name.substr(name.rfind('/') + 1)));
    ++found;
  }
  CHECK(found > 50);
}

TEST_CASE("answers hold to their schemas", "[http]") {
  Home at;
  const auto document = at.client.get("/api/v1/openapi.json").json();
  for (const auto& [path, operations] : document["paths"].items()) {
    if (!operations.contains("get")) continue;
    const auto answer = at.client.get(filled(path) + "?side=left").json();
    const auto schema = operations["get"]["responses"]["200"]["content"]["application/json"]["schema"];
    INFO(path);
    CHECK(schema_faults(document, schema, answer).empty());
  }
}

TEST_CASE("an address that is not there is a 404 problem, under the API and beside it", "[http]") {
  Service service;
  HttpClient client(service.port());
  for (const char* path : {"/api", "/api/v1", "/api/v1/health/", "/api/v2/health", "/api/v1//health"}) {
    INFO(path);
    CHECK(client.get(path).status == 404);
    CHECK(client.get(path).problem() == "not-found");
  }
  CHECK(client.get("/nothing.js").status == 404);
}

TEST_CASE("HEAD answers the header of GET without a body", "[http]") {
  Home at;
  const auto got = at.client.get("/api/v1/households/h-1/forecast");
  const auto head = at.client.send("HEAD", "/api/v1/households/h-1/forecast");
  CHECK(head.status == 200);
  CHECK(head.body.empty());
  CHECK(head.headers.at("content-length") == std::to_string(got.body.size()));
  CHECK(head.headers.at("etag") == got.headers.at("etag"));
}

TEST_CASE("every answer carries the headers that protect a browser, and its request's name", "[http]") {
  Service service;
  HttpClient client(service.port());
  for (const char* path : {"/api/v1/health", "/", "/nothing"}) {
    const auto answer = client.get(path);
    INFO(path);
    CHECK(answer.headers.at("x-content-type-options") == "nosniff");
    CHECK(answer.headers.at("referrer-policy") == "no-referrer");
    CHECK(answer.headers.at("content-security-policy").find("script-src 'self'") != std::string::npos);
    CHECK(answer.headers.at("content-security-policy").find("unsafe") == std::string::npos);
    CHECK(answer.headers.at("x-request-id").size() > 3);
  }
}
