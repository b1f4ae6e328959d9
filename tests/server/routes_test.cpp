// SPDX-License-Identifier: MIT
#include "server/api/routes.hpp"

#include <set>

#include "server/api/openapi.hpp"
#include "server/error.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::api;

TEST_CASE("a path finds its route and its parts; another method finds the methods that are", "[api]") {
  const auto found = match("GET", {"api", "v1", "households", "h-1", "forecast"});
  REQUIRE(found.route != nullptr);
  CHECK(found.route->name == std::string("forecast"));
  CHECK(found.parts.at("household") == "h-1");
  const auto other = match("DELETE", {"api", "v1", "households"});
  CHECK(other.route == nullptr);
  CHECK(other.methods == std::vector<std::string>{"GET", "HEAD", "POST", "OPTIONS"});
  CHECK(match("DELETE", {"api", "v1", "invitations", "accept"}).methods == std::vector<std::string>{"POST", "OPTIONS"});
  CHECK(match("DELETE", {"api", "v1", "invitations", "x"}).route != nullptr);
  CHECK(match("GET", {"api", "v1", "nothing"}).methods.empty());
  CHECK(match("GET", {"api", "v1", "households", "h-1", "forecast", ""}).methods.empty());
}

TEST_CASE("no operation has two names, and the document tells of each route once", "[api]") {
  std::set<std::string> names;
  std::size_t told = 0;
  for (const Route& route : routes()) CHECK(names.insert(route.name).second);
  const auto document = openapi_document();
  for (const auto& path : document["paths"]) told += path.size();
  CHECK(told == routes().size());
}

TEST_CASE("every write of a household needs its key and tells of it", "[api]") {
  const std::set<std::string> without{"whatIf",         "invite",         "acceptInvitation", "createAgency",
                                      "passkeyOptions", "keepPasskey",    "signInOptions",    "signIn",
                                      "recover",        "makeSealedCode", "eraseHousehold",   "consequence",
                                      "readProfile",    "checkImport",    "makeRoundsFeed",   "makeCalendar",
                                      "subscribe",      "tryPush",        "confirmPush"};
  const auto document = openapi_document();
  std::size_t writes = 0;
  for (const auto& path : document["paths"]) {
    if (!path.contains("post") || without.count(path["post"]["operationId"].get<std::string>()) == 1) continue;
    ++writes;
    bool key = false;
    for (const auto& parameter : path["post"]["parameters"]) {
      key = key || (parameter["name"] == "Idempotency-Key" && parameter["required"] == true);
    }
    CHECK(key);
  }
  CHECK(writes >= 30);
}

TEST_CASE("the table of problems is in the order of their codes, each name once (RFC 9457)", "[api]") {
  std::set<std::string> names;
  for (std::size_t i = 0; i < problem_kinds().size(); ++i) {
    CHECK(static_cast<std::size_t>(problem_kinds()[i].code) == i);
    CHECK(names.insert(problem_kinds()[i].name).second);
  }
  CHECK(problem_kinds().size() == static_cast<std::size_t>(ProblemCode::internal) + 1);
  const auto document = problem_document(Problem(ProblemCode::out_of_range, "x", {{"/percent", "out-of-range", "y"}}));
  CHECK(document["type"] == "/problems/out-of-range");
  CHECK(document["status"] == 422);
  CHECK(document["errors"][0]["place"] == "/percent");
}
