// SPDX-License-Identifier: MIT
// Stores of every schema so far, with all in them that a program of that schema kept, come up to the newest whole; the
// store as it was is kept.
#include <SQLiteCpp/Statement.h>

#include "server/store/chain.hpp"
#include "server/store/maintenance.hpp"
#include "server/store/migrations.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using namespace cellarer::store;
namespace fs = std::filesystem;

namespace {

const Instant written_then{std::chrono::seconds(1'772'366'700)};

/// Households and entries, as the first program wrote them.
constexpr const char* old_records = R"sql(
  INSERT INTO household VALUES (1, 'h-1', '{"household":"h-1","zone":"Europe/Oslo"}', 1772366400, 3);
  INSERT INTO household VALUES (2, 'h-2', '{"household":"h-2","zone":"Europe/Oslo"}', 1772366500, 1);
  INSERT INTO idempotency VALUES (0, 'k-1', 1), (0, 'k-2', 2), (1, 'a', 1), (1, 'b', 2), (1, 'c', 3), (2, 'a', 1);
  INSERT INTO entry VALUES (1, 1, 'reading', 1772366000, 1772366401, 'kitchen', '{"percent":62}', NULL);
  INSERT INTO entry VALUES (1, 2, 'reading', 1772366100, 1772366402, 'kitchen', '{"percent":61}', NULL);
  INSERT INTO entry VALUES (1, 3, 'void', 1772366403, 1772366403, 'kitchen', '{"entry":2}', 2);
  INSERT INTO voided VALUES (1, 2, 3);
  INSERT INTO entry VALUES (2, 1, 'reading', 1772366000, 1772366600, '', '{"percent":10}', NULL);
)sql";

/// A planner with a passkey and a printed code, a phone with its session, a guest, a phone that has ended.
constexpr const char* old_ways_in = R"sql(
  INSERT INTO account VALUES
    ('planner', 'agency', '', 'planner', 'Desk', NULL, NULL, '', NULL, 1772366600, 1772366601, NULL, NULL, ''),
    ('phone', 'agency', 'agency/h-1', 'household', 'Kitchen', NULL, NULL, '', NULL, 1772366600, 1772366601, NULL, NULL, ''),
    ('guest', 'agency', 'agency/h-1', 'guest', 'Guest', 480, 1200, 'Europe/Oslo', 1772452800, 1772366600, NULL, NULL, NULL, ''),
    ('lost', 'agency', 'agency/h-2', 'household', 'Hall', NULL, NULL, '', NULL, 1772366600, 1772366601, NULL, 1772366650, 'lost');
  INSERT INTO invitation VALUES ('i-1', x'0102', 'guest', 'planner', 0, 1772366600, 1772368400, NULL);
  INSERT INTO session VALUES ('s-1', 'phone', x'0a0b', NULL, NULL, 1772366601, 1772366601, 1772366602, 1806926601, NULL, '', 1);
  UPDATE access_version SET value = 1;
  INSERT INTO passkey VALUES (x'c0ffee', 'planner', x'a501', 7, 1, 0, 0, 1772366601, 1772366602);
  INSERT INTO recovery_code VALUES ('ABCDE', '$argon2id$', 'planner', '', 1772366601, NULL);
  INSERT INTO note VALUES ('public_address', 'https://cells.example.org');
)sql";

/// What was done, and a home that was erased, as the trail and its tables had it before schema 6.
void add_old_trail(SQLite::Database& database) {
  chain::append(database, {"agency", written_then, "phone", "bound", "phone", R"({"role":"household"})", "agency/h-1"});
  chain::append(database, {"agency", written_then, "admin", "erased", "household", R"({"entries":0,"links":[]})"});
  database.exec("INSERT INTO erased_stock VALUES ('agency', 'cells', 'A1', 24, 8, 0, 0, 16)");
}

void add_old_journal(SQLite::Database& database) {
  const auto number =
      chain::append(database, {"agency", written_then, "planner", "agency.round", "north", R"({"state":"planned"})"});
  database.exec("INSERT INTO agency_entry VALUES ('agency', " + std::to_string(number) +
                ", 'round', 'north', 'k-round')");
}

constexpr const char* old_reminding = R"sql(
  INSERT INTO feed VALUES ('f-1', x'fe', 'agency', 'agency/h-1', 'reminders', 'phone', 1772366600, NULL);
  INSERT INTO feed_event VALUES ('f-1', 'left', 1772480000, 3);
  INSERT INTO push_subscription VALUES ('phone', 'agency/h-1', 'https://push.example.net/1', x'04', x'05', 'first', 1772366600, NULL, NULL);
  INSERT INTO reminder VALUES ('r-1', 'agency/h-1', 'left', 1772480000, 1772470000, NULL, NULL);
  INSERT INTO reminder_phone VALUES ('r-1', 'phone');
  INSERT INTO push_message VALUES (1, 'phone', 'left', '{}', 1, 1772480000, 1772470000, 0);
)sql";

/// As programs up to that schema left it: each brought it up to its own, and wrote what it knew of.
void make_old_store(const fs::path& file, int schema) {
  SQLite::Database database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  database.exec("PRAGMA journal_mode = WAL");
  for (int version = 1; version <= schema; ++version) {
    migrate_to(database, version);
    if (version == 1) database.exec(old_records);
    if (version == 2) database.exec(old_ways_in);
    if (version == 3) add_old_trail(database);
    if (version == 4) add_old_journal(database);
    if (version == 5) database.exec(old_reminding);
  }
}

void check_old_records(Store& store) {
  const auto households = store.households("", 10);
  REQUIRE(households.size() == 2);
  CHECK(households[0].last_entry == 3);
  const auto entries = store.entries(households[0].reference);
  REQUIRE(entries.size() == 3);
  CHECK(entries[0].body == R"({"percent":62})");
  CHECK(entries[1].voided_by == 3);
  CHECK(entries[2].voids == 2);
  CHECK(entries[2].recorded_at == Instant(std::chrono::seconds(1772366403)));
  // A write that was sent before and is sent again is the same write still.
  const Instant then{std::chrono::seconds(1772366401)};
  CHECK(store.append({households[0].reference, "reading", then, then, "kitchen", R"({"percent":62})", "a"}).outcome ==
        Outcome::repeated);
  CHECK(store.append({households[1].reference, "reading", then, then, "", "{}", "new"}).outcome == Outcome::stored);
}

void check_old_ways_in(AccessStore& access) {
  const auto guest = access.account("guest");
  REQUIRE(guest);
  CHECK(guest->household == "agency/h-1");
  REQUIRE(guest->hours);
  CHECK(guest->hours->to_min == 1200);
  CHECK(guest->until == Instant(std::chrono::seconds(1772452800)));
  CHECK(access.account("lost")->ended_why == "lost");
  CHECK(access.invitation("\x01\x02")->account.id == "guest");
  const auto sessions = access.sessions_changed_since(0);
  REQUIRE(sessions.size() == 1);
  CHECK(sessions[0].session.token_hash == "\x0a\x0b");
  CHECK(sessions[0].account.id == "phone");
  REQUIRE(access.passkeys("planner").size() == 1);
  CHECK(access.passkeys("planner")[0].sign_count == 7);
  CHECK(access.recovery_code("ABCDE")->account == "planner");
  CHECK(access.note("public_address") == "https://cells.example.org");
}

void check_old_reminding(ReminderStore& reminders) {
  REQUIRE(reminders.feed("\xfe"));
  CHECK(reminders.feed("\xfe")->household == "agency/h-1");
  CHECK(reminders.sequence("f-1", "left", Instant(std::chrono::seconds(1772480000))) == 3);
  CHECK(reminders.subscription("phone")->endpoint == "https://push.example.net/1");
  REQUIRE(reminders.open_reminders("agency/h-1").size() == 1);
  CHECK(reminders.phones_of("r-1") == std::vector<std::string>{"phone"});
  CHECK(reminders.waiting(Instant(std::chrono::seconds(1772470001)), 10).size() == 1);
}

/// Households and entries with the one that was added; the accounts taken over; what was done, with the stock taken
/// over; the journal's.
std::size_t links_of(int schema) {
  return 2 + 5 + (schema >= 2 ? 4 : 0) + (schema >= 3 ? 2 + 1 : 0) + (schema >= 4 ? 1 : 0);
}

}  // namespace

TEST_CASE("a store of every schema so far comes up with all that it held", "[store]") {
  for (int schema = 1; schema <= newest_schema(); ++schema) {
    CAPTURE(schema);
    const cellarer::testing::TemporaryFolder folder;
    const auto file = folder.path() / file_name;
    make_old_store(file, schema);
    const auto store = open_sqlite_store(file);
    check_old_records(*store);
    if (schema >= 2) check_old_ways_in(store->access());
    if (schema >= 3) {
      const auto left = store->erased_stock("agency");
      REQUIRE(left.size() == 1);
      CHECK(left[0].left_behind == 16);
    }
    if (schema >= 4) {
      const auto journal = store->agency_entries("agency");
      REQUIRE(journal.size() == 1);
      CHECK(journal[0].subject == "north");
      CHECK(journal[0].body == R"({"state":"planned"})");
    }
    if (schema >= 5) check_old_reminding(store->reminders());
    const auto report = check(file);
    CHECK(report.faults == std::vector<std::string>{});
    CHECK(report.schema == newest_schema());
    CHECK(store->audit("agency", std::nullopt, 100).size() == links_of(schema));

    const auto kept = copy_before(file, schema);
    CHECK(fs::exists(kept) == (schema < newest_schema()));
    if (fs::exists(kept)) CHECK(check(kept).schema == schema);
    if (fs::exists(kept)) CHECK(check(kept).entries == 4);
  }
}
