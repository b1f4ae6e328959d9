// SPDX-License-Identifier: MIT
// One entry as it is shown. A store may hold what was taken before the door refused it: fields that are null, labels
// that are not UTF-8. Both are shown, or a home's list and export would be closed for ever.
#include "server/api/entry_document.hpp"

#include "server/api/message.hpp"
#include "server/service/bench_facts.hpp"
#include "server/service/fold.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

TEST_CASE("an entry with fields that are null reads as if they were absent", "[entries]") {
  namespace kind = service::kind;
  const auto same = [](const char* what, const char* body, const char* without) {
    INFO(what << " " << body);
    CHECK(api::entry_text(what, nlohmann::json::parse(body)) == api::entry_text(what, nlohmann::json::parse(without)));
  };
  same(kind::cell_change, R"({"side":"left","reason":null})", R"({"side":"left"})");
  same(kind::cell_change, R"({"side":"left","cells":null})", R"({"side":"left"})");
  same(kind::cell_change, R"({"side":"left","cells":{"lot":null}})", R"({"side":"left"})");
  same(kind::unit, R"({"serial":"u-1","spare":null})", R"({"serial":"u-1"})");
  same(kind::reading, R"({"side":"left","percent":null,"step":3,"of":5})", R"({"side":"left","step":3,"of":5})");
  same(kind::back_home, R"({"cells":null})", "{}");
  same(kind::back_home, R"({"cells":{"left":null}})", "{}");
  same(kind::part, R"({"part":"antenna","side":null,"why":"first"})", R"({"part":"antenna","why":"first"})");
  same(kind::check, R"({"side":"left","rate_per_min":12,"amplitude":4,"hours_per_day":null})",
       R"({"side":"left","rate_per_min":12,"amplitude":4})");
  same(kind::settings, R"({"side":"left","rate_per_min":12,"amplitude":4,"growth":null})",
       R"({"side":"left","rate_per_min":12,"amplitude":4})");
}

TEST_CASE("of a look at the settings only what such a look says is told, whatever else was sent with it", "[entries]") {
  const auto body = nlohmann::json::parse(
      R"({"what":"settings_read","at":"2026-03-01T21:30:00Z","side":"left","rate_per_min":12,
          "inspiratory_fraction":0.28,"amplitude":4,"hours_per_day":"nine"})");
  CHECK_NOTHROW(service::read_check(json::Field(body, "")));  // the door takes it
  CHECK(api::entry_text(service::kind::check, body) ==
        "Left: settings read off the unit: 12 breaths a minute, amplitude 4.");
  const auto noted = nlohmann::json{{"what", "hours_noted"}, {"side", "right"}, {"hours_per_day", 9}};
  CHECK(api::entry_text(service::kind::check, noted) == "Right: noted 9 hours paced a day.");
}

TEST_CASE("what was used, thrown away, received and counted each reads by its own word", "[entries]") {
  namespace kind = service::kind;
  const auto tape = nlohmann::json::parse(R"({"item":"tape","quantity":2,"lot":"T1","place":"home"})");
  CHECK(api::entry_text(kind::use, tape) == "Used: 2 tape, lot T1, home.");
  CHECK(api::entry_text(kind::discard, tape) == "Thrown away: 2 tape, lot T1, home.");
  CHECK(api::entry_text(kind::delivery, tape) == "Received: 2 tape, lot T1, home.");
  CHECK(api::entry_text(kind::stock_count, tape) == "Counted: 2 tape, lot T1, home.");
}

TEST_CASE("an entry whose label is not UTF-8 is shown", "[entries]") {
  service::Entry entry{1,
                       service::kind::unit,
                       {},
                       {},
                       "K\xfc"
                       "che",
                       R"({"serial":"u-1"})",
                       std::nullopt,
                       std::nullopt};
  CHECK(api::bytes_of(api::entry_document(entry, nullptr))
            .find("\"who\":\"K\xef\xbf\xbd"
                  "che\"") != std::string::npos);
}

TEST_CASE("what is in a list stays there when it is null", "[json]") {
  const auto document = nlohmann::json::parse(R"({"a":[1,null,{"b":null,"c":2}],"d":null,"e":{"f":null}})");
  CHECK(json::without_nulls(document) == nlohmann::json::parse(R"({"a":[1,null,{"c":2}],"e":{}})"));
}
