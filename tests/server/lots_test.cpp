// SPDX-License-Identifier: MIT
// Recalls and corrected numbers: what is expected is DEVELOPERS.md's section on lots.
#include "server/service/lots.hpp"

#include "server/clock.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/house.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

namespace {

using Json = nlohmann::json;

struct SetClock final : Clock {
  Instant at = noon;
  Instant now() const override { return at; }
};

/// An agency with two homes in memory.
struct Agency {
  Agency() {
    for (const char* home : {"agency/h-1", "agency/h-2"}) {
      households.create(
          home, R"({"household":")" + reference(home) + R"(","zone":"Europe/Oslo","changing_times":["21:30"]})", home);
      record(home, kind::unit, {{"serial", "u"}, {"stimulator", "two-cells"}, {"from", text(after_h(-900))}});
    }
  }
  static std::string reference(const std::string& key) { return key.substr(key.find('/') + 1); }
  void record(const std::string& home, const char* what, const Json& body) {
    households.record({home, what, noon, "", body.dump(), "k" + std::to_string(++keys)});
  }
  void count(const std::string& home, const char* lot, int pieces) {
    record(home, kind::stock_count,
           {{"at", text(after_h(-100))}, {"item", "cells"}, {"lot", lot}, {"quantity", pieces}});
  }
  void change(const std::string& home, double hours, const char* side, const char* lot) {
    record(home, kind::cell_change,
           {{"at", text(after_h(hours))}, {"side", side}, {"reason", "planned"}, {"cells", {{"lot", lot}}}});
  }
  void say(const char* what, const Json& body) {
    households.journal().record({"agency", what, "cells/x", body.dump(), "k" + std::to_string(++keys)});
  }
  void recall(const char* lot, bool recalled = true) {
    say(agency_kind::lot_recall, {{"item", "cells"}, {"lot", lot}, {"recalled", recalled}});
  }
  void correct(const char* from, const Json& to) {
    say(agency_kind::lot_correction, {{"item", "cells"}, {"from", from}, {"to", to}});
  }
  HouseholdRecord record_of(const std::string& home) { return households.snapshot(home)->record; }

  std::unique_ptr<store::Store> store = store::open_memory_store();
  SetClock clock;
  FakeLibraries libraries;
  HouseholdService households{*store, clock, libraries};
  int keys = 0;
};

}  // namespace

TEST_CASE("a recall is in every home that has the lot at once, and in no other; taken back it is gone", "[lots]") {
  Agency agency;
  agency.count("agency/h-1", "B7", 12);
  agency.count("agency/h-2", "C1", 12);
  agency.change("agency/h-1", -50, "left", "B7");
  CHECK(agency.record_of("agency/h-1").recalled_lots.empty());
  const auto before = agency.households.snapshot("agency/h-2");
  agency.clock.at = after_h(1);
  agency.recall("B7");
  const auto record = agency.record_of("agency/h-1");
  REQUIRE(record.recalled_lots.size() == 1);
  CHECK(record.recalled_lots[0].since == after_h(1));
  CHECK(record.recalled_lots[0].lot == "B7");
  CHECK(agency.record_of("agency/h-2").recalled_lots.empty());
  CHECK(agency.households.snapshot("agency/h-2") != before);
  agency.recall("B7", false);
  CHECK(agency.record_of("agency/h-1").recalled_lots.empty());
}

TEST_CASE("what else an agency records leaves homes as they were folded", "[lots]") {
  Agency agency;
  const auto before = agency.households.snapshot("agency/h-1");
  agency.say("something_else", Json::object());
  CHECK(agency.households.snapshot("agency/h-1") == before);
}

TEST_CASE("a wrong number corrected once: stock, sets, recalls and what is recorded later follow; and back", "[lots]") {
  Agency agency;
  agency.count("agency/h-1", "B1", 12);
  agency.change("agency/h-1", -50, "left", "B1");
  agency.count("agency/h-2", "B7", 8);
  agency.correct("B1", "B7");
  agency.change("agency/h-2", -40, "right", "B1");
  const auto story = lot_story(agency.households, "agency", {"cells", "B7"});
  REQUIRE(story);
  CHECK(story->homes.size() == 2);
  CHECK(story->line.in_homes == 12 - 2 + 8 - 2);
  CHECK(story->line.in_sides == 2);
  CHECK(story->line.used_sets == 2);
  CHECK_FALSE(lot_story(agency.households, "agency", {"cells", "B1"}));
  agency.recall("B1");  // the wrong number calls back what was meant
  CHECK(agency.record_of("agency/h-2").recalled_lots.size() == 1);
  CHECK(agency.households.lots_of_agency("agency")->written_as({"cells", "B7"}) == std::vector<std::string>{"B1"});
  agency.correct("B1", nullptr);
  CHECK(lot_story(agency.households, "agency", {"cells", "B1"})->line.in_sides == 2);
  CHECK(agency.record_of("agency/h-1").recalled_lots.size() == 1);
}

TEST_CASE("a lot balances over all homes: received = used + discarded + unaccounted + in homes", "[lots]") {
  Agency agency;
  agency.record("agency/h-1", kind::delivery,
                {{"at", text(after_h(-200))}, {"item", "cells"}, {"lot", "B7"}, {"quantity", 24}});
  agency.change("agency/h-1", -150, "left", "B7");
  agency.record("agency/h-1", kind::discard,
                {{"at", text(after_h(-120))}, {"item", "cells"}, {"lot", "B7"}, {"quantity", 3}});
  agency.record("agency/h-1", kind::use,
                {{"at", text(after_h(-110))}, {"item", "cells"}, {"lot", "B7"}, {"quantity", 1}});
  agency.count("agency/h-1", "B7", 17);
  const auto lots = all_lots(agency.households, "agency");
  REQUIRE(lots.size() == 1);
  const auto& line = lots[0];
  CHECK(line.received == 24);
  CHECK(line.used == 2 + 1);  // a set went into a side, a cell was used beside it
  CHECK(line.used_sets == 1);
  CHECK(line.discarded == 3);
  CHECK(line.in_homes == 17);
  CHECK(line.received == line.used + line.discarded + line.unaccounted + line.in_homes + line.left_with_erased);
}

TEST_CASE("a home that was called is told so, and one that was called before the recall is not", "[lots]") {
  Agency agency;
  agency.count("agency/h-1", "B7", 12);
  agency.recall("B7");
  agency.record("agency/h-1", kind::recall_call, {{"lot", "B7"}});
  const auto story = lot_story(agency.households, "agency", {"cells", "B7"});
  REQUIRE(story->homes.size() == 1);
  CHECK(story->homes[0].told_at == noon);
}

TEST_CASE("terms of an item that come later take the place of those before", "[fold]") {
  House house;
  house.add(kind::item_terms, noon, {{"item", "tape"}, {"pack_size", 6}, {"every_days", 3}});
  house.add(kind::item_terms, noon, {{"item", "tape"}, {"pack_size", 8}, {"every_days", 2}});
  const auto record = house.record();
  const auto tape =
      std::find_if(record.items.begin(), record.items.end(), [](const auto& one) { return one.item == "tape"; });
  REQUIRE(tape != record.items.end());
  CHECK(tape->pack_size == 8);
  CHECK(record.items.size() == 2);
}
