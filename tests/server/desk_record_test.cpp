// SPDX-License-Identifier: MIT
// What the desk knows of a household and of its agency, folded from entries. Expected: DEVELOPERS.md, section 5 (what
// was taken back does not count; the newer of two holds), and bookkeeping identities.
#include "server/service/waste.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

namespace {

const Json tape_line{{"item", "tape"}, {"packs", 2}, {"pieces_per_pack", 5}, {"lots", {{{"lot", "T1"}, {"packs", 2}}}}};

Json planned(const char* round, const char* date) {
  return {{"round", round}, {"date", date}, {"stop", "S-1"}, {"lines", {tape_line}}};
}

}  // namespace

TEST_CASE("a message is open until the agency has seen it, and the first to see it counts", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  const auto told = at.record(home, desk::message, {{"about", "running_short"}, {"note", "two left"}});
  CHECK_FALSE(at.desk.desk_of(home).messages.at(0).seen_at);
  CHECK(at.row(home)["attention"][0] == "message");
  at.clock.advance(std::chrono::minutes(12));
  at.record(home, desk::message_seen, {{"entry", told}});
  const auto seen = at.clock.now();
  at.clock.advance(std::chrono::minutes(5));
  at.record(home, desk::message_seen, {{"entry", told}});
  CHECK(at.desk.desk_of(home).messages.at(0).seen_at == seen);
  CHECK(json::parse_rfc3339(at.row(home)["messages"][0]["seen_at"].get<std::string>()) == seen);
}

TEST_CASE("desk entries say nothing of cells and stock: neither a count's age nor the last record moves", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 4);
  const auto counted = at.clock.now();
  at.clock.advance(std::chrono::hours(30));
  at.record(home, desk::ask, Json::object());
  const auto record = at.desk.desk_of(home);
  CHECK(record.last_count_at == counted);
  CHECK(record.last_record_at == counted);
  CHECK(record.asked_at == at.clock.now());
  CHECK(record.last_entry == 2);
  CHECK(record.last_use_entry == 1);
}

TEST_CASE("of two plans for one round the newer holds; what was taken back does not count", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.record(home, desk::planned_delivery, planned("north 2026-03-04", "2026-03-04"));
  auto more = planned("north 2026-03-04", "2026-03-04");
  more["lines"][0]["packs"] = 3;
  more["lines"][0]["lots"][0]["packs"] = 3;
  const auto newer = at.record(home, desk::planned_delivery, more);
  REQUIRE(at.desk.desk_of(home).deliveries.size() == 1);
  CHECK(at.desk.desk_of(home).deliveries[0].lines[0].packs == 3);
  at.households.undo({home, kind::undo, at.clock.now(), "", Json{{"entry", newer}}.dump(), at.key()}, newer);
  CHECK(at.desk.desk_of(home).deliveries[0].lines[0].packs == 2);
  at.record(home, desk::delivery_withdrawn, {{"round", "north 2026-03-04"}});
  CHECK(at.desk.desk_of(home).deliveries[0].answer == Answer::withdrawn);
}

TEST_CASE("a delivery without an answer is the first line of the list after 24 hours", "[desk]") {
  DeskWorld at;
  const auto late = at.household("h-9"), short_of = at.household("h-1");
  at.count(late, 100);
  at.record(short_of, desk::message, {{"about", "running_short"}});
  at.record(late, desk::planned_delivery, planned("north 2026-03-04", "2026-03-04"));
  const auto first = [&] {
    at.desk.board("agency")->catch_up();
    return Json::parse(*at.desk.board("agency")->page(0, 1).json)["rows"][0];
  };
  CHECK(first()["household"] == "h-1");
  CHECK(at.row(late)["deliveries"][0]["state"] == "planned");
  at.clock.set(Instant(std::chrono::sys_days{Date{std::chrono::year{2026} / 3 / 6}}));  // 24 h after its day is over
  at.record(late, desk::ask, Json::object());
  CHECK(first()["household"] == "h-9");
  CHECK(first()["attention"][0] == "no_answer");
}

TEST_CASE("the agency's stock is what came less what was loaded and thrown away; cancelled rounds bring it back",
          "[desk]") {
  DeskWorld at;
  at.agency_stock({{"what", "received"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 10}, {"expires", "2027-01"}});
  at.agency_stock({{"what", "discarded"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 1}});
  at.agency_stock({{"what", "ordered"}, {"item", "tape"}, {"lot", "T2"}, {"packs", 5}, {"arrives", "2026-03-09"}});
  const rounds::Round round{"north 2026-03-04", "north", Date{std::chrono::year{2026} / 3 / 4}, 10, 1};
  const auto step = [&](RoundState state, int packs) {
    const auto body = round_entry(round, state, 1, {{"tape", "T1", packs, std::nullopt}});
    at.households.journal().record({"agency", desk::round, round.id, body.dump(), at.key(), "planner"});
  };
  step(RoundState::planned, 4);
  CHECK(at.agency().lots.at(0).packs == 9);
  step(RoundState::loaded, 4);
  CHECK(at.agency().lots.at(0).packs == 5);
  CHECK(at.agency().lots.at(0).expires == std::chrono::year{2027} / 1);
  step(RoundState::left, 4);
  CHECK(at.agency().lots.at(0).packs == 5);
  CHECK(at.agency().lots.at(1).arrives == Date{std::chrono::year{2026} / 3 / 9});
  step(RoundState::planned, 4);
  step(RoundState::loaded, 3);
  step(RoundState::cancelled, 0);
  CHECK(at.agency().lots.at(0).packs == 9);
  CHECK(at.agency().rounds.at(round.id).history.size() == 6);
}

TEST_CASE("a calendar whose rounds have no stops, no days, or dates gone by is refused where it is wrong", "[desk]") {
  const Date today{std::chrono::year{2026} / 3 / 1};
  const auto refused = [&](const Json& rule, const Json& items = Json::array()) {
    const Json body{{"rules", {rule}}, {"items", items}};
    return problem_of([&] { read_new_calendar(json::Field(body, ""), today); });
  };
  const Json rule{{"name", "north"}, {"area", "north"}, {"weekdays", {"wed"}}, {"stops", 4}};
  const auto with = [&](const char* name, const Json& value) {
    Json other = rule;
    other[name] = value;
    return other;
  };
  CHECK(refused(rule) == "none");
  CHECK(refused(with("stops", 0)) == "out-of-range /rules/0/stops");
  CHECK(refused(with("weekdays", Json::array())) == "out-of-range /rules/0/weekdays");
  CHECK(refused(with("dates", {"2026-02-28"})) == "out-of-range /rules/0/dates/0");
  CHECK(refused(with("dates", {"2026-02-30"})) == "out-of-range /rules/0/dates/0");
  CHECK(refused(with("dates", {"2026-03-01"})) == "none");
  const Json tape{{"item", "tape"}, {"pieces_per_pack", 5}};
  CHECK(refused(rule, {tape, tape}) == "duplicate /items/1/item");
  const Json kept{{"rules", {with("dates", {"2026-12-24"})}}, {"items", {tape}}, {"zone", "Europe/Oslo"}};
  const auto once = read_calendar(json::Field(kept, ""));
  const auto document = calendar_document(once);
  CHECK(calendar_document(read_calendar(json::Field(document, ""))) == document);
  CHECK(document["rules"][0]["weekdays"] == Json{"wed"});
}

TEST_CASE("packs that expired in the agency's own store are waste, there still or thrown away", "[desk]") {
  DeskWorld at;  // 1 March 2026
  Json calendar{
      {"rules", Json::array()}, {"items", {{{"item", "cells"}, {"pieces_per_pack", 8}}}}, {"horizon_days", 28}};
  at.households.journal().record({"agency", desk::round_calendar, "", calendar.dump(), at.key(), "planner", 1});
  const auto stock = [&](const char* what, const char* lot, int packs, const char* expires) {
    Json body{{"what", what}, {"item", "cells"}, {"lot", lot}, {"packs", packs}};
    if (expires != nullptr) body["expires"] = expires;
    at.agency_stock(body);
  };
  stock("received", "A", 5, "2026-01");  // past its date
  stock("received", "B", 4, "2026-03");  // usable to the end of the month
  at.agency_stock({{"what", "ordered"},
                   {"item", "cells"},
                   {"lot", "C"},
                   {"packs", 7},
                   {"expires", "2025-12"},
                   {"arrives", "2026-03-09"}});
  stock("discarded", "A", 2, nullptr);
  stock("discarded", "B", 1, nullptr);
  const auto waste = [&](Instant since) {
    return store_waste(*at.households.journal().of("agency"), {}, since, at.clock.now());
  };
  const auto all = waste(at.clock.now() - std::chrono::hours(1));
  CHECK(all.expired_cells == 8 * (3 + 2));
  CHECK(all.discarded_cells == 8 * 1);
  at.clock.advance(std::chrono::hours(1));
  CHECK(waste(at.clock.now()).expired_cells == 8 * 3);  // what was thrown away before counts no longer
  CHECK(waste(at.clock.now()).discarded_cells == 0);
}

TEST_CASE("as many packs as can be typed are still counted", "[desk]") {
  DeskWorld at;
  Json calendar{{"rules", Json::array()}, {"items", {{{"item", "cells"}, {"pieces_per_pack", 10'000}}}}};
  at.households.journal().record({"agency", desk::round_calendar, "", calendar.dump(), at.key(), "planner", 1});
  const Json most{{"what", "discarded"}, {"item", "cells"}, {"lot", "A"}, {"packs", 1'000'000}};  // what the door takes
  check_agency_stock(json::Field(most, ""));
  at.agency_stock(most);
  const auto entries = at.households.journal().of("agency");
  const auto since = at.clock.now() - std::chrono::hours(1);
  CHECK(store_waste(*entries, {}, since, at.clock.now()).discarded_cells == 10'000'000'000);

  // Nobody has a thousand million packs; 2 200 million would be no `int` any more.
  Json more = most;
  more["what"] = "received";
  more["lot"] = "B";
  std::vector<store::StoredAgencyEntry> again;
  for (int i = 1; i <= 2200; ++i) again.push_back({i, desk::agency_stock, "cells", at.clock.now(), "", more.dump()});
  const auto lots = agency_record(again).lots;
  REQUIRE(lots.size() == 1);
  CHECK(lots.front().packs == 1'000'000'000);
}

TEST_CASE("a delivery in which a home wrote something else for the round is of no round", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  const auto delivery = [&](const Json& round) {
    return at.record(
        home, kind::delivery,
        {{"at", json::rfc3339(at.clock.now(), nullptr)}, {"item", "tape"}, {"quantity", 5}, {"round", round}});
  };
  delivery(5);
  delivery(Json{{"north", 1}});
  const auto of_it = delivery("north/2026-03-04");
  CHECK(at.desk.booked_of(home, "north/2026-03-04") == std::vector<std::int64_t>{of_it});
}
