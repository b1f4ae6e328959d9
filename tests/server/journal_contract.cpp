// SPDX-License-Identifier: MIT
// What any engine behind server/store/store.hpp must do with an agency's journal and with writes that belong together.
// The expected behaviour is that header's text.
#include <SQLiteCpp/Database.h>

#include "server/error.hpp"
#include "server/service/agency_journal.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/engines.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::store;
using cellarer::testing::at_second;
using cellarer::testing::Memory;
using cellarer::testing::Sqlite;

NewAgencyEntry recall(const std::string& lot, const std::string& key, std::optional<std::int64_t> follows = {}) {
  return {"north", "recall", lot, at_second(0), R"({"why":"short"})", key, "a-1", follows};
}

NewEntry reading_of(const std::string& household, const std::string& key) {
  return {household, "reading", at_second(10), at_second(20), "kitchen phone", R"({"percent":62})", key};
}

}  // namespace

TEMPLATE_TEST_CASE("an agency's entry comes back as it was stored, and no other agency's", "[store]", Memory, Sqlite) {
  TestType engine;
  const auto first = engine.store->append(recall("A1", "k1"));
  REQUIRE(first.outcome == Outcome::stored);
  const auto second = engine.store->append(recall("B7", "k2"));
  engine.store->append(NewAgencyEntry{"south", "recall", "A1", at_second(0), "{}", "k1"});
  CHECK(second.entry.number > first.entry.number);
  const auto kept = engine.store->agency_entries("north");
  REQUIRE(kept.size() == 2);
  CHECK(kept[0].number == first.entry.number);
  CHECK(kept[0].kind == "recall");
  CHECK(kept[0].subject == "A1");
  CHECK(kept[0].recorded_at == at_second(0));
  CHECK(kept[0].account == "a-1");
  CHECK(kept[0].body == R"({"why":"short"})");
  const auto later = engine.store->agency_entries("north", first.entry.number);
  REQUIRE(later.size() == 1);
  CHECK(later[0].subject == "B7");
  CHECK(engine.store->agency_entries("west").empty());
}

TEMPLATE_TEST_CASE("an agency's entry sent twice is stored once", "[store]", Memory, Sqlite) {
  TestType engine;
  const auto first = engine.store->append(recall("A1", "k1"));
  const auto again = engine.store->append(recall("A1", "k1"));
  CHECK(again.outcome == Outcome::repeated);
  CHECK(again.entry.number == first.entry.number);
  CHECK(engine.store->append(recall("B7", "k1")).outcome == Outcome::key_reused);
  CHECK(engine.store->agency_entries("north").size() == 1);
}

TEMPLATE_TEST_CASE("of two who follow the same entry the second is refused", "[store]", Memory, Sqlite) {
  TestType engine;
  const auto first = engine.store->append(recall("A1", "k1", 0));
  REQUIRE(first.outcome == Outcome::stored);
  const auto late = engine.store->append(recall("A1", "k2", 0));
  CHECK(late.outcome == Outcome::outdated);
  CHECK(late.entry.number == first.entry.number);
  // Another subject stands for itself, and whoever knows the newest may go on.
  CHECK(engine.store->append(recall("B7", "k3", 0)).outcome == Outcome::stored);
  CHECK(engine.store->append(recall("A1", "k4", first.entry.number)).outcome == Outcome::stored);
  CHECK(engine.store->agency_entries("north").size() == 3);
}

TEMPLATE_TEST_CASE("what is written together is stored whole or not at all", "[store]", Memory, Sqlite) {
  TestType engine;
  engine.store->create_household({"north/h-1", "{}", "a", at_second(0)});
  Batch batch;
  batch.households.push_back({"north/h-2", "{}", "b", at_second(0)});
  batch.entries = {reading_of("north/h-1", "r1"), reading_of("north/h-2", "r1"), reading_of("north/h-9", "r1")};
  batch.agency_entries.push_back(recall("A1", "k1"));
  const auto refused = engine.store->write_together(batch);
  CHECK(refused.outcome == Outcome::unknown_household);
  CHECK(refused.failed == 3);
  CHECK_FALSE(engine.store->household("north/h-2"));
  CHECK(engine.store->household("north/h-1")->last_entry == 0);
  CHECK(engine.store->entries("north/h-1").empty());
  CHECK(engine.store->agency_entries("north").empty());
  const auto links = engine.store->audit("north", std::nullopt, 20).size();

  batch.entries.pop_back();
  CHECK(engine.store->write_together(batch).outcome == Outcome::stored);
  CHECK(engine.store->entries("north/h-2").size() == 1);
  CHECK(engine.store->agency_entries("north").size() == 1);
  CHECK(engine.store->audit("north", std::nullopt, 20).size() == links + 4);
  // Sent again, it is the same.
  CHECK(engine.store->write_together(batch).outcome == Outcome::stored);
  CHECK(engine.store->audit("north", std::nullopt, 20).size() == links + 4);
}

TEST_CASE("a row of the journal that was changed, removed or inserted by hand is named", "[store]") {
  const Sqlite engine;
  engine.store->append(recall("A1", "k1"));
  engine.store->append(recall("B7", "k2"));
  REQUIRE(engine.store->audit_faults("north").empty());
  const auto by_hand = [&](const char* statement) {
    SQLite::Database((engine.folder.path() / file_name).string(), SQLite::OPEN_READWRITE).exec(statement);
    return engine.store->audit_faults("north").size();
  };
  CHECK(by_hand("UPDATE agency_entry SET subject = 'C2' WHERE subject = 'A1'") == 1);
  CHECK(by_hand("UPDATE agency_entry SET subject = 'A1' WHERE subject = 'C2'") == 0);
  CHECK(by_hand("DELETE FROM agency_entry WHERE subject = 'A1'") == 1);
  CHECK(by_hand("INSERT INTO agency_entry VALUES ('north', 1, 'recall', 'A1', 'k1')") == 0);
  CHECK(by_hand("INSERT INTO agency_entry VALUES ('north', 77, 'recall', 'D4', 'k7')") == 1);
}

TEST_CASE("the journal in memory grows with the store, and says who was first", "[service]") {
  const auto store = open_memory_store();
  const FakeClock clock(at_second(0));
  service::AgencyJournal journal(*store, clock);
  CHECK(journal.of("north")->empty());
  CHECK(journal.version("north") == 0);
  const auto first = journal.record({"north", "recall", "A1", "{}", "k1", "a-1", 0});
  CHECK_FALSE(first.repeated);
  CHECK(journal.version("north") == first.entry.number);
  CHECK(journal.record({"north", "recall", "A1", "{}", "k1", "a-1", 0}).repeated);
  try {
    journal.record({"north", "recall", "A1", "{}", "k2", "a-2", 0});
    FAIL("the second was taken");
  } catch (const Problem& problem) {
    CHECK(problem.code() == ProblemCode::outdated);
    CHECK(problem.more.at("newest") == first.entry.number);
  }
  Batch batch;
  batch.agency_entries.push_back(recall("B7", "k3"));
  journal.write_together(batch);
  CHECK(journal.of("north")->size() == 2);
}
