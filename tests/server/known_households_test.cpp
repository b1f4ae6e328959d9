// SPDX-License-Identifier: MIT
// Rows kept in memory are never older than what was acknowledged.
#include <thread>

#include "server/store/known_households.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using namespace cellarer::store;

namespace {

StoredHousehold row_of(std::int64_t last_entry) { return {"agency/h-1", "{}", Instant{}, last_entry}; }

NewEntry entry_under(const std::string& key) {
  return {"agency/h-1", "reading", Instant{}, Instant{}, "Kitchen phone", "{}", key};
}

}  // namespace

TEST_CASE("a kept row is renewed by a write, and never set back by whoever read before it", "[store]") {
  KnownHouseholds known;
  known.keep(row_of(5), known.moment());
  known.wrote("agency/h-1", 6);
  CHECK(known.find("agency/h-1")->last_entry == 6);
  known.keep(row_of(5), known.moment());
  known.wrote("agency/h-1", 4);
  CHECK(known.find("agency/h-1")->last_entry == 6);
}

TEST_CASE("a row that was read before a write, an erasure or another program's write is not kept", "[store]") {
  KnownHouseholds known;
  auto before = known.moment();
  known.wrote("agency/h-1", 6);
  known.keep(row_of(5), before);
  CHECK_FALSE(known.find("agency/h-1"));
  before = known.moment();
  known.forget("agency/h-1");
  known.keep(row_of(5), before);
  CHECK_FALSE(known.find("agency/h-1"));
  before = known.moment();
  known.forget_all();
  known.keep(row_of(5), before);
  CHECK_FALSE(known.find("agency/h-1"));
}

TEST_CASE("what this program wrote is there at once, what another wrote within a second", "[store]") {
  const testing::TemporaryFolder folder;
  const auto ours = open_sqlite_store(folder.path() / file_name), theirs = open_sqlite_store(folder.path() / file_name);
  ours->create_household({"agency/h-1", "{}", "key", Instant{}});
  CHECK(ours->household("agency/h-1")->last_entry == 0);
  ours->append(entry_under("one"));
  CHECK(ours->household("agency/h-1")->last_entry == 1);
  ours->write_together({{}, {entry_under("two"), entry_under("three")}, {}});
  CHECK(ours->household("agency/h-1")->last_entry == 3);
  theirs->append(entry_under("four"));
  for (int tries = 0; tries < 100 && ours->household("agency/h-1")->last_entry < 4; ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  CHECK(ours->household("agency/h-1")->last_entry == 4);
}
