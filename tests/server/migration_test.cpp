// SPDX-License-Identifier: MIT
// Stores of every schema so far, with entries in them, come up to the newest whole; the store as it was is kept.
#include <SQLiteCpp/Statement.h>

#include "server/store/maintenance.hpp"
#include "server/store/migrations.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using namespace cellarer::store;
namespace fs = std::filesystem;

namespace {

/// As a program of that schema left it: its own migrations, and entries as the first one wrote them.
void make_old_store(const fs::path& file, int schema) {
  SQLite::Database database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  database.exec("PRAGMA journal_mode = WAL");
  database.exec(migrations()[0].sql);
  database.exec("PRAGMA application_id = " + std::to_string(application_id));
  database.exec(R"sql(
    INSERT INTO household VALUES (1, 'h-1', '{"household":"h-1","zone":"Europe/Oslo"}', 1772366400, 3);
    INSERT INTO household VALUES (2, 'h-2', '{"household":"h-2","zone":"Europe/Oslo"}', 1772366500, 1);
    INSERT INTO idempotency VALUES (0, 'k-1', 1), (0, 'k-2', 2), (1, 'a', 1), (1, 'b', 2), (1, 'c', 3), (2, 'a', 1);
    INSERT INTO entry VALUES (1, 1, 'reading', 1772366000, 1772366401, 'kitchen', '{"percent":62}', NULL);
    INSERT INTO entry VALUES (1, 2, 'reading', 1772366100, 1772366402, 'kitchen', '{"percent":61}', NULL);
    INSERT INTO entry VALUES (1, 3, 'void', 1772366403, 1772366403, 'kitchen', '{"entry":2}', 2);
    INSERT INTO voided VALUES (1, 2, 3);
    INSERT INTO entry VALUES (2, 1, 'reading', 1772366000, 1772366600, '', '{"percent":10}', NULL);
  )sql");
  database.exec("PRAGMA user_version = 1");
  migrate_to(database, schema);
}

}  // namespace

TEST_CASE("a store of every schema so far comes up with all of its entries", "[store]") {
  for (int schema = 1; schema <= newest_schema(); ++schema) {
    CAPTURE(schema);
    const cellarer::testing::TemporaryFolder folder;
    const auto file = folder.path() / file_name;
    make_old_store(file, schema);
    const auto store = open_sqlite_store(file);
    const auto households = store->households("", 10);
    REQUIRE(households.size() == 2);
    CHECK(households[0].last_entry == 3);
    const auto entries = store->entries(households[0].reference);
    REQUIRE(entries.size() == 3);
    CHECK(entries[0].body == R"({"percent":62})");
    CHECK(entries[1].voided_by == 3);
    CHECK(entries[2].voids == 2);
    CHECK(entries[2].recorded_at == Instant(std::chrono::seconds(1772366403)));
    // A write that was sent before and is sent again is the same write still.
    const Instant then{std::chrono::seconds(1772366401)};
    CHECK(
        store->append({households[0].reference, "reading", then, then, "kitchen", R"({"percent":62})", "a"}).outcome ==
        Outcome::repeated);
    CHECK(store->append({households[1].reference, "reading", then, then, "", "{}", "new"}).outcome == Outcome::stored);
    const auto report = check(file);
    CHECK(report.faults.empty());
    CHECK(report.schema == newest_schema());
    CHECK(store->audit("agency", std::nullopt, 20).size() == 7);

    const auto kept = copy_before(file, schema);
    CHECK(fs::exists(kept) == (schema < newest_schema()));
    if (fs::exists(kept)) CHECK(check(kept).schema == schema);
    if (fs::exists(kept)) CHECK(check(kept).entries == 4);
  }
}
