// SPDX-License-Identifier: MIT
// What any engine behind server/store/store.hpp must do. The expected behaviour is that header's text and
// the records section of DEVELOPERS.md.
#include <future>
#include <memory>
#include <mutex>
#include <set>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/engines.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::store;
using cellarer::testing::at_second;
using cellarer::testing::Memory;
using cellarer::testing::Sqlite;

NewHousehold house(const std::string& reference, const std::string& key) {
  return {reference, "{}", key, at_second(0)};
}

NewEntry reading(const std::string& key, const std::string& body = R"({"percent":62})") {
  return {"h-1", "reading", at_second(10), at_second(20), "kitchen phone", body, key};
}

}  // namespace

TEMPLATE_TEST_CASE("an entry comes back as it was stored, numbered from 1 within its household", "[store]", Memory,
                   Sqlite) {
  TestType engine;
  REQUIRE(engine.store->create_household(house("h-1", "a")).outcome == Outcome::stored);
  REQUIRE(engine.store->create_household(house("h-2", "b")).outcome == Outcome::stored);
  const auto written = engine.store->append(reading("k1"));
  CHECK(written.outcome == Outcome::stored);
  CHECK(engine.store->append(reading("k2")).entry.number == 2);
  const auto kept = engine.store->entry("h-1", 1).value();
  CHECK(kept.number == 1);
  CHECK(kept.kind == "reading");
  CHECK(kept.at == at_second(10));
  CHECK(kept.recorded_at == at_second(20));
  CHECK(kept.who == "kitchen phone");
  CHECK(kept.body == R"({"percent":62})");
  CHECK_FALSE(kept.voids);
  CHECK_FALSE(kept.voided_by);
  CHECK(engine.store->household("h-1")->last_entry == 2);
  CHECK(engine.store->household("h-2")->last_entry == 0);
  CHECK(engine.store->entries("h-2").empty());
}

TEMPLATE_TEST_CASE("what is appended without a thread that waits is told of once, when it is there", "[store]", Memory,
                   Sqlite) {
  TestType engine;
  engine.store->create_household(house("h-1", "a"));
  constexpr int threads = 4, each = 50;
  std::mutex mutex;
  std::multiset<std::int64_t> numbers;
  std::promise<void> all_told;
  const auto told = [&](const EntryWritten* written, const std::exception_ptr& failure) {
    const std::lock_guard lock(mutex);
    numbers.insert(written != nullptr && !failure && written->outcome == Outcome::stored ? written->entry.number : -1);
    if (numbers.size() == threads * each) all_told.set_value();
  };
  std::vector<std::thread> writers;
  for (int writer = 0; writer < threads; ++writer) {
    writers.emplace_back([&engine, &told, writer] {
      for (int i = 0; i < each; ++i) engine.store->append_then(reading(std::to_string(writer * each + i)), told);
    });
  }
  for (auto& writer : writers) writer.join();
  all_told.get_future().wait();
  std::multiset<std::int64_t> expected;
  for (int number = 1; number <= threads * each; ++number) expected.insert(number);
  CHECK(numbers == expected);
  CHECK(engine.store->household("h-1")->last_entry == threads * each);
  CHECK(engine.store->entries("h-1").size() == threads * each);

  std::promise<Outcome> refused;
  auto elsewhere = reading("k");
  elsewhere.household = "h-2";
  engine.store->append_then(elsewhere, [&refused](const EntryWritten* written, const std::exception_ptr&) {
    refused.set_value(written->outcome);
  });
  CHECK(refused.get_future().get() == Outcome::unknown_household);
}

TEMPLATE_TEST_CASE("one key stores one entry, and other content under it is told apart", "[store]", Memory, Sqlite) {
  TestType engine;
  engine.store->create_household(house("h-1", "a"));
  REQUIRE(engine.store->append(reading("k")).outcome == Outcome::stored);
  const auto again = engine.store->append(reading("k"));
  CHECK(again.outcome == Outcome::repeated);
  CHECK(again.entry.number == 1);
  CHECK(engine.store->append(reading("k", R"({"percent":61})")).outcome == Outcome::key_reused);
  CHECK(engine.store->entries("h-1").size() == 1);
}

TEMPLATE_TEST_CASE("a household is made once; its key may be repeated, its reference not be taken", "[store]", Memory,
                   Sqlite) {
  TestType engine;
  REQUIRE(engine.store->create_household(house("h-1", "a")).outcome == Outcome::stored);
  CHECK(engine.store->create_household(house("h-1", "a")).outcome == Outcome::repeated);
  CHECK(engine.store->create_household(house("h-9", "a")).outcome == Outcome::key_reused);
  CHECK(engine.store->create_household(house("h-1", "b")).outcome == Outcome::household_exists);
  CHECK_FALSE(engine.store->household("h-9"));
}

TEMPLATE_TEST_CASE("an entry is voided once, by a later entry, and stays readable", "[store]", Memory, Sqlite) {
  TestType engine;
  engine.store->create_household(house("h-1", "a"));
  engine.store->append(reading("k1"));
  NewEntry undo{"h-1", "void", at_second(30), at_second(30), "", R"({"entry":1})", "k2", 1};
  REQUIRE(engine.store->append(undo).outcome == Outcome::stored);
  CHECK(engine.store->entry("h-1", 1)->voided_by == 2);
  CHECK(engine.store->entry("h-1", 2)->voids == 1);
  undo.key = "k3";
  const auto twice = engine.store->append(undo);
  CHECK(twice.outcome == Outcome::already_voided);
  CHECK(twice.entry.number == 1);
  undo.voids = 77;
  CHECK(engine.store->append(undo).outcome == Outcome::unknown_entry);
  CHECK(engine.store->entries("h-1").size() == 2);
}

TEMPLATE_TEST_CASE("entries of an unknown household are not stored", "[store]", Memory, Sqlite) {
  TestType engine;
  CHECK(engine.store->append(reading("k")).outcome == Outcome::unknown_household);
  CHECK(engine.store->entries("h-1").empty());
  CHECK_FALSE(engine.store->entry("h-1", 1));
  CHECK(engine.store->newest_entries("h-1", std::nullopt, 5).empty());
}

TEMPLATE_TEST_CASE("lists come in pages that follow each other without gap or repeat", "[store]", Memory, Sqlite) {
  TestType engine;
  for (int i = 0; i < 5; ++i) engine.store->create_household(house("h-" + std::to_string(i), "k" + std::to_string(i)));
  const auto first = engine.store->households("", 3);
  REQUIRE(first.size() == 3);
  const auto rest = engine.store->households(first.back().reference, 3);
  REQUIRE(rest.size() == 2);
  CHECK(rest.front().reference == "h-3");
  for (int i = 0; i < 5; ++i) engine.store->append(reading("e" + std::to_string(i)));
  const auto newest = engine.store->newest_entries("h-1", std::nullopt, 3);
  REQUIRE(newest.size() == 3);
  CHECK(newest.front().number == 5);
  const auto older = engine.store->newest_entries("h-1", newest.back().number, 3);
  REQUIRE(older.size() == 2);
  CHECK(older.back().number == 1);
}

TEMPLATE_TEST_CASE("writers at the same time lose nothing, and share one key fairly", "[store]", Memory, Sqlite) {
  TestType engine;
  engine.store->create_household(house("h-1", "a"));
  std::vector<std::thread> writers;
  std::atomic<int> stored{0}, repeated{0};
  for (int w = 0; w < 8; ++w) {
    writers.emplace_back([&, w] {
      for (int i = 0; i < 20; ++i) engine.store->append(reading("w" + std::to_string(w) + "-" + std::to_string(i)));
      const auto shared = engine.store->append(reading("shared"));
      (shared.outcome == Outcome::stored ? stored : repeated)++;
    });
  }
  for (auto& writer : writers) writer.join();
  CHECK(stored == 1);
  CHECK(repeated == 7);
  const auto all = engine.store->entries("h-1");
  REQUIRE(all.size() == 161);
  std::set<std::int64_t> numbers;
  for (const auto& entry : all) numbers.insert(entry.number);
  CHECK(numbers.size() == 161);
  CHECK(*numbers.rbegin() == 161);
}

TEMPLATE_TEST_CASE("an erased household is gone, its stock is its agency's, its links are hashes", "[store]", Memory,
                   Sqlite) {
  TestType engine;
  for (const char* key : {"north/h-1", "north/h-2"})
    engine.store->create_household({key, "{}", key, at_second(0), "admin"});
  auto entry = reading("k1");
  for (const char* key : {"north/h-1", "north/h-2"}) {
    entry.household = key;
    REQUIRE(engine.store->append(entry).outcome == Outcome::stored);
  }
  CHECK(engine.store->erase({"north/h-9", 0, {}, at_second(30), "admin"}).outcome == Outcome::unknown_household);
  CHECK(engine.store->erase({"north/h-1", 0, {}, at_second(30), "admin"}).outcome == Outcome::more_was_recorded);
  const ErasedStock stock{"cells", "A1", 24, 8, 2, 0, 14};
  const auto erased = engine.store->erase({"north/h-1", 1, {stock}, at_second(30), "admin"});
  CHECK(erased.outcome == Outcome::stored);
  CHECK(erased.entries == 1);
  CHECK(erased.links == 2);
  CHECK_FALSE(engine.store->household("north/h-1"));
  CHECK(engine.store->entries("north/h-1").empty());
  CHECK(engine.store->entries("north/h-2").size() == 1);
  REQUIRE(engine.store->erase({"north/h-2", 1, {stock}, at_second(40), "admin"}).outcome == Outcome::stored);
  const auto left = engine.store->erased_stock("north");
  REQUIRE(left.size() == 1);
  CHECK(left.front().received == 48);
  CHECK(left.front().left_behind == 28);
  CHECK(engine.store->erased_stock("south").empty());

  const auto links = engine.store->audit("north", std::nullopt, 10);
  REQUIRE(links.size() == 6);
  CHECK(links.front().action == "erased");
  CHECK(links.front().who == "admin");
  for (std::size_t i = 2; i < 6; ++i) {
    CHECK(links[i].erased);
    CHECK(links[i].household.empty());
    CHECK(links[i].action.empty());
    CHECK(links[i].hash.size() == 64);
  }
  CHECK(engine.store->audit_faults("north").empty());
  CHECK(engine.store->audit("north", 3, 10).front().number == 2);

  // The reference may be used again, and its keys of then are forgotten.
  CHECK(engine.store->create_household({"north/h-1", "{}", "north/h-1", at_second(50)}).outcome == Outcome::stored);
  CHECK(engine.store->entries("north/h-1").empty());
  entry.household = "north/h-1";
  CHECK(engine.store->append(entry).outcome == Outcome::stored);
  CHECK(engine.store->audit_faults("north").empty());
}

TEMPLATE_TEST_CASE("the trail tells who stored what, newest first", "[store]", Memory, Sqlite) {
  TestType engine;
  engine.store->create_household({"north/h-1", "{}", "a", at_second(0), "admin"});
  engine.store->append({"north/h-1", "reading", at_second(10), at_second(20), "kitchen", "{}", "k", {}, "phone"});
  engine.store->note({"north/h-1", "admin", "exported", at_second(30)});
  auto links = engine.store->audit("north", std::nullopt, 10);
  REQUIRE(links.size() == 3);
  CHECK(links.front().action == "exported");
  CHECK(links.front().household == "north/h-1");
  CHECK(engine.store->audit_faults("north").empty());
  links.erase(links.begin());
  CHECK(links[0].number == 2);
  CHECK(links[0].who == "phone");
  CHECK(links[0].action == "reading");
  CHECK(links[0].subject == "1");
  CHECK(links[0].household == "north/h-1");
  CHECK(links[0].at == at_second(20));
  CHECK(links[1].action == "household");
}

TEMPLATE_TEST_CASE("an entry recorded later than now is told, unless it was taken back", "[store]", Memory, Sqlite) {
  TestType engine;
  engine.store->create_household(house("h-1", "a"));
  engine.store->append(reading("k1"));
  CHECK_FALSE(engine.store->recorded_after(at_second(20)));
  const auto later = engine.store->recorded_after(at_second(19));
  REQUIRE(later);
  CHECK(later->household == "h-1");
  CHECK(later->entry == 1);
  CHECK(later->recorded_at == at_second(20));
  engine.store->append({"h-1", "void", at_second(5), at_second(5), "", R"({"entry":1})", "k2", 1});
  CHECK_FALSE(engine.store->recorded_after(at_second(19)));
}
