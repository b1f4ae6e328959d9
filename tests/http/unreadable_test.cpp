// SPDX-License-Identifier: MIT
// An entry that its own reader refuses is not stored; where a store holds one all the same, the agency's pages go on
// without that home, and say so.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"
#include "tests/support/store_by_hand.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

json left_out_of(const Answer& answer) { return answer.json().value("left_out", json("none said")); }

}  // namespace

TEST_CASE("an end that would make a stay longer than one may be is refused before it is stored", "[http]") {
  Home at;
  const auto stay =
      at.client.post(at_home + "/stays", {{"from", from_now(-800 * day_s)}, {"to", from_now(-790 * day_s)}});
  REQUIRE(stay.status == 201);
  const auto before = at.client.get(at_home + "/entries").body;
  const auto ended = at.client.post(at_home + "/ends", {{"entry", stay.json()["entry"]["id"]}, {"at", from_now(-60)}});
  CHECK(ended.status == 422);
  CHECK(ended.problem() == "out-of-range");
  CHECK(ended.json()["errors"][0]["place"] == "/at");
  CHECK(at.client.get(at_home + "/entries").body == before);
  CHECK(at.client.get(at_home + "/forecast").status == 200);
  CHECK(at.client.get(api + "/lots").status == 200);
}

TEST_CASE("a home that cannot be read takes none of the agency's pages with it, and each names it", "[http]") {
  Home at;
  REQUIRE(at.client
              .post(api + "/households", {{"household", "h-2"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}})
              .status == 201);
  REQUIRE(at.client
              .post(api + "/households/h-2/stock-counts",
                    {{"at", from_now(-60)}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 8}})
              .status == 201);
  CHECK(left_out_of(at.client.get(api + "/lots")) == json::array());
  const auto data = at.service.data();
  REQUIRE(at.service.terminate() == 0);
  change_by_hand(data, "UPDATE entry SET body = '{\"at\":\"some day\"}' WHERE kind = 'stock_count' AND number = 1");
  Service again(nullptr, data);
  HttpClient client(again.port());
  CHECK(client.get(api + "/households/h-2").status == 422);
  for (const char* page : {"/lots", "/lots/one?lot=A1", "/lots/recalls/calls?lot=A1", "/lots-in-use", "/units",
                           "/findings", "/stock-ledger", "/exports/households.json", "/exports/counts.json"}) {
    const auto answer = client.get(api + page);
    INFO(page << " " << answer.body);
    CHECK(answer.status == 200);
    CHECK(left_out_of(answer) == json{"h-2"});
  }
  for (const char* page : {"/costs/waste", "/costs/risk-curve"}) {
    auto answer = client.get(api + page);
    for (int tries = 0; tries < 50 && answer.json().contains("computing"); ++tries) answer = client.get(api + page);
    INFO(page << " " << answer.body);
    CHECK(left_out_of(answer) == json{"h-2"});
  }
  for (const char* table : {"/exports/counts.csv", "/lots/one.csv?lot=A1"}) {
    const auto answer = client.get(api + table);
    INFO(table);
    CHECK(answer.status == 200);
    CHECK(answer.headers.at("cellarer-left-out") == "h-2");
  }
  // Its own 24 pieces are there, those of the other home are not.
  CHECK(client.get(api + "/lots").json()["lots"][0]["in_homes"] == 24);
  CHECK(client.get(at_home + "/forecast").status == 200);
  CHECK(client.get(api + "/board").status == 200);
  // Taken back it is read no more, and nobody is left out.
  REQUIRE(client.post(api + "/households/h-2/voids", {{"entry", 1}}).status == 201);
  CHECK(left_out_of(client.get(api + "/lots")) == json::array());
}
