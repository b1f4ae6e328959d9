// SPDX-License-Identifier: MIT
// The technician's review, kept beside the service: what is found, what becomes of it, and where units were.
#include "server/service/review_book.hpp"

#include "server/api/lot_documents.hpp"
#include "server/api/side_history.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/lot_review.hpp"
#include "server/service/read_proposal.hpp"
#include "server/service/unit_history.hpp"
#include "tests/support/bench_world.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::testing;
using service::FindingState;

namespace {

/// One home whose left side has used more since its eleventh set, and one where nothing happened.
struct Bench : BenchWorld {
  Bench() {
    settle("north/h-1", "u-1");
    sets("north/h-1", "left", 0, gauge_that_drops(8, 18));
    sets("north/h-1", "right", 120, gauge_that_drops(8, 0));
    settle("north/h-2", "u-2");
    sets("north/h-2", "left", 0, gauge_that_drops(8, 0));
    sets("north/h-2", "right", 120, gauge_that_drops(8, 0));
  }

  service::NoteWish wish(const service::ListedFinding& finding, FindingState state, const std::string& reason = "") {
    service::NoteWish wish;
    wish.agency = "north";
    wish.note.finding = finding.id;
    wish.note.state = state;
    wish.note.reason = reason;
    wish.note.who = "Bench";
    wish.follows = finding.newest();
    wish.key = "n" + std::to_string(++keys);
    return wish;
  }

  service::ReviewBook book{households};
};

}  // namespace

TEST_CASE("more use of one side is found there alone, and stays found after a start") {
  Bench bench;
  const auto reviewed = bench.book.of("north");
  REQUIRE(reviewed.waiting == 0);
  REQUIRE(reviewed.agency->findings.size() == 1);
  const auto& finding = reviewed.agency->findings.front();
  CHECK(finding.household == "h-1");
  CHECK(finding.document["scope"] == "left");
  CHECK(finding.document["more_percent"].get<double>() > 0);
  CHECK(finding.state == FindingState::open);
  CHECK(bench.book.of("south").agency->findings.empty());

  service::ReviewBook started_anew(bench.households);
  REQUIRE(started_anew.of("north").agency->findings.size() == 1);
  CHECK(started_anew.of("north").agency->findings.front().id == finding.id);
  // Nothing new: the same review is kept; a new entry makes another.
  CHECK(bench.book.of("north").agency == reviewed.agency);
  bench.add("north/h-2", kind::reading, 9500, {{"side", "left"}, {"percent", 80}});
  CHECK(bench.book.of("north").agency != reviewed.agency);
}

TEST_CASE("a finding is seen, taken on and closed with a reason; of two at once the second is told") {
  Bench bench;
  const auto open = bench.book.of("north").agency->findings.front();
  const auto seen = bench.book.note(bench.wish(open, FindingState::seen));
  CHECK(seen.state == FindingState::seen);
  CHECK_THROWS_AS(bench.book.note(bench.wish(open, FindingState::taken_on)), Problem);
  const auto taken = bench.book.note(bench.wish(seen, FindingState::taken_on));
  CHECK(taken.notes.size() == 2);
  const auto closed = bench.book.note(bench.wish(taken, FindingState::closed, "cause_removed"));
  CHECK(closed.state == FindingState::closed);

  service::ReviewBook started_anew(bench.households);
  const auto after = started_anew.of("north").agency;
  REQUIRE(after->findings.size() == 1);
  CHECK(after->findings.front().id == open.id);
  CHECK(after->findings.front().state == FindingState::closed);
  CHECK(after->findings.front().document["title"] == open.document["title"]);
  // It is an entry of its household: erasing that leaves nothing of it.
  bench.households.erase("north/h-1", "");
  started_anew.forget("north/h-1");
  CHECK(started_anew.of("north").agency->findings.empty());
}

TEST_CASE("what goes on after it was closed is found anew, and says what it reopens") {
  Bench bench;
  const auto open = bench.book.of("north").agency->findings.front();
  bench.clock.set(after_h(18 * BenchWorld::set_h + 1));
  bench.book.note(bench.wish(open, FindingState::closed, "nothing_found"));
  bench.clock.set(after_h(500 * 24));
  bench.sets("north/h-1", "left", 18 * BenchWorld::set_h + 2, std::vector<double>(8, 14));
  const auto after = bench.book.of("north").agency;
  std::string reopens;
  for (const auto& finding : after->findings) {
    if (finding.state == FindingState::open) reopens = finding.reopens;
  }
  CHECK(reopens == open.id);
}

TEST_CASE("settings read off the unit weigh against the other causes") {
  Bench bench;
  const auto before = bench.book.of("north").agency->findings.front().document;
  const auto of_settings = [](const nlohmann::json& document) {
    for (const auto& cause : document["causes"]) {
      if (cause["cause"] == "settings") return cause["probability"].get<double>();
    }
    return -1.0;
  };
  bench.add("north/h-1", kind::check, 19 * BenchWorld::set_h,
            {{"side", "left"},
             {"what", "settings_read"},
             {"rate_per_min", 12},
             {"inspiratory_fraction", 0.28},
             {"amplitude", 4.0}});
  CHECK(of_settings(bench.book.of("north").agency->findings.front().document) < 0.5 * of_settings(before));
}

TEST_CASE("a unit that was measured, and its values approved, is found by them no longer") {
  Bench bench;
  auto measured = bench.libraries.stimulator("two-cells").value();
  measured.left.burst_base_mA *= 1.3;
  measured.left.burst_slope_mA *= 1.3;
  const double current_mA = duty::burst_current_mA(measured.left, 4.0);
  const auto record = [&](const char* kind, const std::string& subject, const nlohmann::json& body, const char* who) {
    return bench.households.journal()
        .record({"north", kind, subject, body.dump(), "b" + std::to_string(++bench.keys), who, 0})
        .entry.number;
  };
  const nlohmann::json proposed{{"document", service::stimulator_file(measured)},
                                {"at", text(after_h(400))},
                                {"bursts", {{{"side", "left"}, {"amplitude", 4.0}, {"current_mA", current_mA}}}}};
  const auto number = record(service::agency_kind::profile_proposal, "unit/u-2", proposed, "first");
  const auto of_unit = [&] {
    const auto reviewed = bench.book.of("north").agency;
    return std::count_if(reviewed->findings.begin(), reviewed->findings.end(), [](const auto& finding) {
      return !finding.document["ended_at"].is_string() && finding.document["subject"] == "u-2";
    });
  };
  CHECK(of_unit() == 1);
  record(service::agency_kind::profile_decision, std::to_string(number), {{"approve", true}}, "second");
  CHECK(of_unit() == 0);
}

TEST_CASE("a unit's places follow its records, the workshop's among them") {
  Bench bench;
  const auto event = [&](const char* what, double hours) {
    const nlohmann::json body{{"what", what}, {"at", text(after_h(hours))}};
    bench.households.journal().record(
        {"north", service::agency_kind::unit_event, "u-1", body.dump(), "e" + std::to_string(++bench.keys), ""});
  };
  event("workshop", 19 * BenchWorld::set_h);
  event("repaired", 19 * BenchWorld::set_h + 24);
  bench.add("north/h-2", kind::unit, 20 * BenchWorld::set_h, {{"serial", "u-1"}, {"stimulator", "two-cells"}}, "from");
  const auto units = service::unit_histories(*bench.book.of("north").agency);
  const auto& moved = units.at("u-1");
  REQUIRE(moved.places.size() == 3);
  CHECK(moved.places[0].household == "h-1");
  CHECK(moved.places[1].kind == service::UnitPlace::Kind::workshop);
  CHECK(moved.place().household == "h-2");
  CHECK(moved.troubles.size() == 1);
  // The one before it stays in the house as a spare.
  CHECK(units.at("u-2").place().kind == service::UnitPlace::Kind::spare);
}

TEST_CASE("worn parts: services are counted from entries; a part in use is censored") {
  Bench bench;
  double at = 0;
  for (const double days : {100.0, 120.0, 90.0}) {
    bench.add("north/h-1", kind::part, 24 * at,
              {{"part", "antenna"}, {"side", "left"}, {"why", at == 0 ? "first" : "worn_out"}});
    at += days;
  }
  bench.add("north/h-1", kind::part, 24 * at, {{"part", "antenna"}, {"side", "left"}, {"why", "worn_out"}});
  const auto wear = bench.book.of("north").agency->wear;
  REQUIRE(wear.size() == 1);
  REQUIRE(wear.front().fit);
  CHECK(wear.front().fit->worn_out == 3);
  CHECK(wear.front().fit->in_all == 4);
  REQUIRE(wear.front().due.size() == 1);
  CHECK(wear.front().due.front().side == Side::left);
  // In a closed home nobody wears the last one: it had not worn out until then, and nobody is due. Open again, it is.
  bench.add("north/h-1", service::desk::closed, 24 * (at + 20), nlohmann::json::object());
  const auto closed = bench.book.of("north").agency->wear;
  REQUIRE(closed.size() == 1);
  REQUIRE(closed.front().fit);
  CHECK(closed.front().fit->worn_out == 3);
  CHECK(closed.front().fit->in_all == 4);
  CHECK(closed.front().due.empty());
  bench.add("north/h-1", service::desk::reopened, 24 * (at + 30), nlohmann::json::object());
  CHECK(bench.book.of("north").agency->wear.front().due.size() == 1);
}

TEST_CASE("text that a spreadsheet would take for a formula is written as text (OWASP, CSV injection)") {
  CHECK(api::csv_text("=1+1") == "'=1+1");
  CHECK(api::csv_text("@x") == "'@x");
  CHECK(api::csv_text("+47") == "'+47");
  CHECK(api::csv_text("-1") == "'-1");
  CHECK(api::csv_text("lot 7") == "lot 7");
  CHECK(api::csv_text("a,\"b\"") == "\"a,\"\"b\"\"\"");  // RFC 4180, 2.6 and 2.7
  Bench bench;
  bench.add("north/h-2", kind::unit, 1, {{"serial", "=HYPERLINK(\"x\")"}, {"stimulator", "two-cells"}}, "from");
  const auto home = bench.book.home("north/h-2");
  const auto table = api::side_history_csv(*home, home->history, Side::left, {});
  CHECK_THAT(table, holds("\"'=HYPERLINK(\"\"x\"\")\""));
}

TEST_CASE(
    "how a lot did follows what is written and corrected at once, and homes that nothing befell stay as they are") {
  Bench bench;
  const auto did = [&](const char* lot) {
    const auto story = service::lot_story(bench.households, "north", {"cells", lot});
    REQUIRE(story);
    return service::how_it_did(bench.book, *story);
  };
  const auto before = did("lot-1");
  REQUIRE(before.life_ratio);
  const auto untouched = bench.book.home("north/h-2");
  CHECK(did("lot-1").sets == before.sets);
  CHECK(bench.book.home("north/h-2") == untouched);
  // The set that is in comes out: the lot has one that says something more.
  const double out = 18 * BenchWorld::set_h;
  bench.add("north/h-1", kind::reading, out + BenchWorld::set_h - 2, {{"side", "left"}, {"percent", 40}});
  bench.add("north/h-1", kind::cell_change, out + BenchWorld::set_h,
            {{"side", "left"}, {"reason", "planned"}, {"cells", {{"profile", "lr6-family"}, {"lot", "lot-2"}}}});
  CHECK(did("lot-1").sets == before.sets + 1);
  CHECK(bench.book.home("north/h-2") == untouched);
  // The number was wrong: all its sets are of another lot, without a new entry in any home.
  const nlohmann::json corrected{{"item", "cells"}, {"from", "lot-1"}, {"to", "lot-9"}};
  bench.households.journal().record(
      {"north", service::agency_kind::lot_correction, "cells/lot-1", corrected.dump(), "c1", "planner"});
  CHECK(did("lot-9").sets == before.sets + 1);
}

TEST_CASE("how a lot did says of how many homes, and when more had it than were looked at") {
  service::LotDid did{180, 60, false, std::array{0.75, 0.8, 0.85}};
  CHECK(api::did_sentence(did).ends_with("from 180 sets in 60 homes."));
  did.cut = true;
  CHECK(api::did_sentence(did).ends_with("from 180 sets in the 60 homes looked at; more homes used it."));
}

TEST_CASE("a lot's review alone is its part of the review of all") {
  Bench bench;
  const auto reviewed = bench.book.of("north").agency;
  const auto one = bench.book.home("north/h-1"), other = bench.book.home("north/h-2");
  const auto alone = review::review_lots({&one->history, &other->history}, reviewed->options);
  REQUIRE(alone.size() == reviewed->review.lots.size());
  for (std::size_t i = 0; i < alone.size(); ++i) {
    CHECK(alone[i].subject == reviewed->review.lots[i].subject);
    CHECK(alone[i].pooled == reviewed->review.lots[i].pooled);
    CHECK(alone[i].pooled_sd == reviewed->review.lots[i].pooled_sd);
  }
}
