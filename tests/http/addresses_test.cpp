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

std::string next_week() { return from_now(7 * day_s).substr(0, 10); }

/// So that there is a round.
void add_calendar(HttpClient& client) {
  const json rule{{"name", "north"}, {"area", "north"}, {"dates", {next_week()}}, {"stops", 4}};
  const json body{{"follows", 0}, {"zone", "UTC"}, {"rules", json::array({rule})}};
  REQUIRE(client.post("/api/v1/calendar", body).status == 200);
}

/// A path with its parts filled in; those of access by what nobody has, but for one's own account.
std::string filled(std::string path, const std::string& account = "nobody") {
  const std::vector<std::pair<std::string, std::string>> parts{{"{household}", "h-1"},
                                                               {"{stimulator}", "percent-power"},
                                                               {"{account}", account},
                                                               {"{session}", "none"},
                                                               {"{invitation}", "none"},
                                                               {"{entry}", "1"},
                                                               {"{side}", "left"},
                                                               {"{serial}", "u-1"},
                                                               {"{table}", "households.json"},
                                                               {"{proposal}", "1"},
                                                               {"{round}", "north%20" + next_week()}};
  for (const auto& [part, value] : parts) {
    const auto at = path.find(part);
    if (at != std::string::npos) path.replace(at, part.size(), value);
  }
  return path;
}

std::string own_account(HttpClient& client) { return client.get("/api/v1/session").json()["account"]; }

/// Whether it answers something else than JSON.
bool gives_text(const json& operation) {
  const auto ok = operation["responses"].value("200", json::object());
  return ok.contains("content") && !ok["content"].contains("application/json");
}

/// What an address has to be asked for, beside a side; only of these the answer differs.
std::string query_of(const std::string& path) {
  if (path.find("/lots/") != std::string::npos) return "?lot=A1";
  if (path.ends_with("/forecast-then")) return "?at=" + from_now(-3600);
  return "?side=left";
}

/// Asked for something that is not in this home, or for a secret: tests of their own read them.
bool is_not_there(const std::string& path) {
  return path.ends_with("/profile-proposals/{proposal}") || path.ends_with("/feeds/rounds.ics");
}

/// Only the operator's.
bool is_of_operator(const std::string& path) { return path == "/api/v1/agencies"; }

}  // namespace

TEST_CASE("every operation that OpenAPI names is there, and no other method is", "[http]") {
  Home at;
  const auto document = at.client.get("/api/v1/openapi.json").json();
  CHECK(document["openapi"] == "3.1.0");
  REQUIRE(document["paths"].size() > 20);
  add_calendar(at.client);
  const auto account = own_account(at.client);
  for (const auto& [path, operations] : document["paths"].items()) {
    for (const auto& method : methods) {
      INFO(method << " " << path);
      if (method == "delete" && path == "/api/v1/session") continue;  // nothing after it would be answered
      const bool is_text = operations.contains(method) && gives_text(operations[method]);
      if (is_text) continue;  // a stream without an end, or an address with a secret in it: tests of their own
      const auto target = filled(path, method == "get" ? account : "nobody") + query_of(path);
      const auto answer = at.client.send(upper(method), target, "", {"Idempotency-Key: " + new_key()});
      CHECK((answer.status == 405) == !operations.contains(method));
      CHECK((answer.status != 404 || answer.problem() != "not-found"));
      CHECK(answer.status < 500);
      if (!operations.contains(method)) continue;
      if (method == "get" && !is_not_there(path)) CHECK(answer.status == (is_of_operator(path) ? 403 : 200));
      CHECK(operations[method]["responses"].contains(std::to_string(answer.status)));
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
  add_calendar(at.client);
  const auto document = at.client.get("/api/v1/openapi.json").json();
  const auto account = own_account(at.client);
  HttpClient runs(at.service.port(),
                  at.service.let_in({"--role", "operator", "--label", "Operator", "--without-passkey"}));
  for (const auto& [path, operations] : document["paths"].items()) {
    if (!operations.contains("get") || gives_text(operations["get"]) || is_not_there(path)) continue;
    auto& client = is_of_operator(path) ? runs : at.client;
    const auto answer = client.get(filled(path, account) + query_of(path)).json();
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
