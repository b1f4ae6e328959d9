// SPDX-License-Identifier: MIT
// A field that is null says what an absent one says (as `Field::find` reads it): no write of it may be stored and
// answered as an error, and none may keep the home from being read afterwards.
#include <algorithm>
#include <map>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

struct Fact {
  const char* route;
  json body;  ///< with what is required alone
};

std::vector<Fact> every_fact() {
  const auto then = from_now(-3600), to_come = from_now(86400);
  return {{"/readings", {{"at", then}, {"side", "left"}, {"percent", 62}}},
          {"/readings", {{"at", then}, {"side", "left"}, {"step", 3}, {"of", 5}}},
          {"/readings", {{"at", then}, {"side", "left"}, {"set_V", 2.6}}},
          {"/readings", {{"at", then}, {"side", "left"}, {"cell_V", {1.3, 1.3}}}},
          {"/cell-changes", {{"at", then}, {"side", "left"}}},
          {"/cell-changes", {{"at", then}, {"side", "right"}, {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}}}},
          {"/units", {{"serial", "u-1"}, {"stimulator", "percent-power"}, {"from", then}}},
          {"/settings",
           {{"from", then}, {"side", "left"}, {"rate_per_min", 12}, {"inspiratory_fraction", 0.3}, {"amplitude", 4}}},
          {"/paced", {{"side", "left"}, {"from", then}, {"hours_per_day", 3}}},
          {"/switched-off", {{"side", "right"}, {"from", then}, {"to", from_now(-1800)}}},
          {"/stock-counts", {{"at", then}, {"item", "cells"}, {"quantity", 24}}},
          {"/deliveries", {{"at", then}, {"item", "cells"}, {"quantity", 4}}},
          {"/discards", {{"at", then}, {"item", "cells"}, {"quantity", 1}}},
          {"/uses", {{"at", then}, {"item", "dressings"}, {"quantity", 1}}},
          {"/stays", {{"from", to_come}, {"to", from_now(2 * 86400)}}},
          {"/paced-more", {{"sides", {"left"}}, {"from", then}, {"hours_per_day", 24}}},
          {"/paced-more", {{"sides", {"left"}}, {"from", then}, {"amplitude", 4.6}}},
          {"/visits", {{"sides", {"left"}}, {"at", to_come}}},
          {"/hospital", {{"from", then}}},
          {"/back-home", {{"at", from_now(-1800)}}},
          {"/back-home", {{"at", from_now(-1800)}, {"cells", {{"left", {{"are", "fresh"}}}}}}},
          {"/checks", {{"at", then}, {"side", "left"}, {"what", "hours_noted"}, {"hours_per_day", 4}}},
          {"/checks",
           {{"at", then},
            {"side", "left"},
            {"what", "settings_read"},
            {"rate_per_min", 12},
            {"inspiratory_fraction", 0.3},
            {"amplitude", 4}}},
          {"/parts", {{"part", "antenna"}, {"at", then}, {"why", "first"}}},
          {"/messages", {{"about", "running_short"}}},
          {"/reminders", {{"what", {"changes"}}, {"words", "neutral"}}},
          {"/ask", json::object()},
          {"/stop", {{"area", "north"}}},
          {"/close", json::object()},
          {"/reopen", json::object()},
          {"/recall-calls", {{"lot", "A1"}}}};
}

/// The fields of a body by the document's schema; those of the objects within as "cells/lot".
class Fields {
 public:
  explicit Fields(json document) : document_(std::move(document)) {}

  std::vector<std::string> of(const std::string& route) const {
    const auto& post = document_.at("paths").at(at_home_of(route)).at("post");
    std::vector<std::string> names;
    if (!post.contains("requestBody")) return names;
    collect(post.at("requestBody").at("content").at("application/json").at("schema"), "", names);
    return names;
  }

 private:
  static std::string at_home_of(const std::string& route) { return "/api/v1/households/{household}" + route; }

  const json& resolved(const json& schema) const {
    if (!schema.contains("$ref")) return schema;
    return resolved(document_.at(json::json_pointer(schema["$ref"].get<std::string>().substr(1))));
  }

  void collect(const json& unresolved, const std::string& before, std::vector<std::string>& names) const {
    const json& schema = resolved(unresolved);
    for (const char* many : {"allOf", "oneOf", "anyOf"}) {
      for (const json& one : schema.value(many, json::array())) collect(one, before, names);
    }
    const json properties = schema.value("properties", json::object());
    for (const auto& [name, field] : properties.items()) {
      names.push_back(before + "/" + name);
      collect(field, before + "/" + name, names);
    }
  }

  json document_;
};

}  // namespace

TEST_CASE("each optional field of each fact may be null: as if absent, never stored and answered as an error",
          "[http]") {
  Home at;
  const Fields fields(at.client.get(api + "/openapi.json").json());
  int taken = 0;
  for (const Fact& fact : every_fact()) {
    auto names = fields.of(fact.route);
    names.push_back("");
    for (const auto& name : names) {
      const json::json_pointer place(name);
      if (!name.empty() && fact.body.contains(place)) continue;
      const bool misfits = !name.empty() && !place.parent_pointer().empty() &&
                           fact.body.contains(place.parent_pointer()) && !fact.body[place.parent_pointer()].is_object();
      if (misfits) continue;  // a list's elements have no such field
      auto body = fact.body;
      if (!name.empty()) body[place] = nullptr;
      INFO(fact.route << " " << body.dump());
      const auto answer = at.client.post(at_home + fact.route, body);
      INFO(answer.body);
      const bool inner = !name.empty() && !place.parent_pointer().empty();
      // What is required of a part that is given, such as what cells are found, is missed by its name.
      CHECK((answer.status == 201 || (inner && answer.status == 422)));
      taken += answer.status == 201 ? 1 : 0;
      CHECK(at.client.get(at_home + "/entries?limit=1").status == 200);
    }
  }
  CHECK(taken > 100);
  CHECK(at.client.get(at_home + "/entries?limit=200").status == 200);
  CHECK(at.client.get(at_home + "/export").status == 200);
  for (const char* page : {"/forecast", "/desk", "/messages", "/chart?side=left", "/reminders"}) {
    INFO(page);
    CHECK(at.client.get(at_home + page).status == 200);
  }
  for (const char* page : {"/lots", "/units", "/findings", "/board", "/stock-ledger", "/exports/counts.csv"}) {
    INFO(page);
    CHECK(at.client.get(api + page).status == 200);
  }
}

TEST_CASE("a label that is not UTF-8 is a bad request, and nothing is stored", "[http]") {
  Home at;
  const auto before = at.client.get(at_home + "/entries").body;
  const auto body = json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 62}}.dump();
  // "Küche" as a browser's fetch sends it: one byte a character, ISO 8859-1.
  const auto sent = [&](const std::string& who) {
    return at.client.send("POST", at_home + "/readings", body,
                          {"Idempotency-Key: " + new_key(), "Cellarer-Who: " + who});
  };
  const auto latin = sent(
      "K\xfc"
      "che");
  CHECK(latin.status == 400);
  CHECK(latin.problem() == "bad-request");
  CHECK(at.client.get(at_home + "/entries").body == before);
  CHECK(sent("K\xc3\xbc"
             "che")
            .json()["entry"]["who"] ==
        "K\xc3\xbc"
        "che");
}
