// SPDX-License-Identifier: MIT
// A reading that comes last is put behind the others. What is expected is what folding all entries anew gives: an
// identity.
#include "server/service/newest_readings.hpp"

#include <random>

#include "server/api/household_document.hpp"
#include "server/service/profile_journal.hpp"
#include "tests/support/bench_world.hpp"
#include "tests/support/catch.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::testing;

const std::string north_home = "north/h-1";

/// A record as far as entries decide it.
nlohmann::json entries_decide(const service::Snapshot& snapshot) {
  const auto& record = snapshot.record;
  nlohmann::json all{{"last_entry", snapshot.last_entry},
                     {"voided_by", snapshot.voided_by},
                     {"document", api::household_document(record, after_h(1000))}};
  const auto lives = [&](const life::Household& life) {
    nlohmann::json readings;
    for (const auto& reading : life.readings) {
      readings.push_back({text(reading.at), text(reading.recorded_at), name_of(reading.side), reading.value.index()});
    }
    return readings;
  };
  all["readings"] = lives(record.life);
  for (const auto& before : record.before_approval) all["before"].push_back(lives(before.life));
  for (const auto& change : record.life.cell_changes) all["same"].push_back(change.perhaps_the_same);
  for (const auto& asked : record.asked_changes) all["asked"].push_back(asked.entry);
  return all;
}

/// One service that goes on, asked now and then, beside one that folds all anew.
struct Beside : BenchWorld {
  Beside() { settle(north_home, "u-1"); }

  void check() {
    service::HouseholdService anew{*store, clock, libraries};
    CHECK(entries_decide(*households.snapshot(north_home)) == entries_decide(*anew.snapshot(north_home)));
  }
  store::StoredEntry newest() { return store->newest_entries(north_home, std::nullopt, 1).front(); }
  bool goes_on_with(const store::StoredEntry& entry) {
    auto record = households.snapshot(north_home)->record;
    return service::add_newest_readings(record, {entry});
  }
};

}  // namespace

TEST_CASE("whatever is recorded, a record that grew is the one that is folded anew", "[fold]") {
  std::mt19937 random(20);
  const auto one_of = [&](int count) { return static_cast<int>(random() % static_cast<unsigned>(count)); };
  for (int round = 0; round < 12; ++round) {
    Beside beside;
    beside.check();
    double now_h = 0;
    for (int step = 0; step < 60; ++step) {
      now_h += one_of(9);
      const char* side = one_of(2) == 0 ? "left" : "right";
      const double at_h = one_of(5) == 0 ? now_h - one_of(30) : now_h;  // remembered later
      switch (one_of(12)) {
        case 0:
        case 1:
          beside.add(north_home, service::kind::cell_change, at_h, {{"side", side}, {"reason", "planned"}});
          break;
        case 2:
          beside.add(north_home, service::kind::reading, at_h, {{"side", side}, {"warning", true}});
          break;
        case 3: {
          const auto target = beside.newest();
          if (target.kind == service::kind::undo || target.voided_by) break;
          const auto body = nlohmann::json{{"entry", target.number}}.dump();
          beside.store->append({north_home, service::kind::undo, after_h(now_h), after_h(now_h), "", body,
                                "v" + std::to_string(step), target.number});
          break;
        }
        case 4:
          beside.add(north_home, service::kind::stock_count, at_h, {{"item", "cells"}, {"quantity", 4 + one_of(20)}});
          break;
        default:
          beside.add(north_home, service::kind::reading, at_h, {{"side", side}, {"percent", one_of(101)}});
      }
      if (one_of(3) > 0) beside.check();  // else several entries come together
    }
  }
}

TEST_CASE("what was known before an approval grows with the record", "[fold]") {
  Beside beside;
  beside.sets(north_home, "left", 0, {});
  beside.clock.set(after_h(48));
  auto& journal = beside.households.journal();
  const auto proposal = journal.record({"north", service::agency_kind::profile_proposal, "cell/lr6-family",
                                        R"({"document":{"id":"lr6-family","holds":0.8}})", "p", "first"});
  journal.record({"north", service::agency_kind::profile_decision, std::to_string(proposal.entry.number),
                  R"({"approve":true})", "d", "second", 0});
  beside.check();
  REQUIRE(beside.households.snapshot(north_home)->record.before_approval.size() == 1);
  beside.add(north_home, service::kind::reading, 50, {{"side", "left"}, {"percent", 70}});
  beside.check();
  CHECK(beside.households.snapshot(north_home)->record.before_approval.front().life.readings.size() == 1);
}

TEST_CASE("only a reading that comes last is put behind the others", "[fold]") {
  Beside beside;
  beside.sets(north_home, "left", 0, {});
  beside.add(north_home, service::kind::reading, 20, {{"side", "left"}, {"percent", 80}});
  const auto entry = [&](const char* kind, double hours, nlohmann::json body) {
    body["at"] = text(after_h(hours));
    store::StoredEntry made;
    made.number = 99;
    made.kind = kind;
    made.at = made.recorded_at = after_h(hours);
    made.body = body.dump();
    return made;
  };
  const nlohmann::json reading{{"side", "left"}, {"percent", 70}};
  CHECK(beside.goes_on_with(entry(service::kind::reading, 30, reading)));
  CHECK(beside.goes_on_with(entry(service::kind::reading, 20, reading)));        // of the same minute: behind
  CHECK_FALSE(beside.goes_on_with(entry(service::kind::reading, 19, reading)));  // before another
  CHECK_FALSE(beside.goes_on_with(entry(service::kind::stock_count, 30, {{"item", "cells"}, {"quantity", 4}})));
  auto taken_back = entry(service::kind::reading, 30, reading);
  taken_back.voided_by = 100;
  CHECK_FALSE(beside.goes_on_with(taken_back));
  CHECK_THROWS_AS(beside.goes_on_with(entry(service::kind::reading, 30, {{"side", "left"}})), json::Refused);

  beside.add(north_home, service::kind::cell_change, 40, {{"side", "right"}, {"reason", "planned"}});
  CHECK(beside.goes_on_with(entry(service::kind::reading, 41, reading)));
  CHECK_FALSE(beside.goes_on_with(entry(service::kind::reading, 40, reading)));  // at the very change
  CHECK_FALSE(beside.goes_on_with(entry(service::kind::reading, 30, reading)));  // between two changes
}
