// SPDX-License-Identifier: MIT
// The audit trail: what is stored has its link, and what was done by hand to the file is found and named.
#include <fstream>

#include <SQLiteCpp/Statement.h>

#include "server/store/chain.hpp"
#include "server/store/maintenance.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/noon.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using cellarer::testing::noon;
using namespace cellarer::store;

namespace {

/// A store of two agencies with three households, closed.
struct Kept {
  Kept() {
    const auto store = open_sqlite_store(file);
    for (const char* key : {"north/h-1", "north/h-2", "south/h-1"}) {
      store->create_household({key, R"({"zone":"Europe/Oslo"})", key, noon, "admin"});
      for (int i = 1; i <= 3; ++i) {
        const auto body = R"({"percent":)" + std::to_string(60 - i) + "}";
        store->append({key, "reading", noon, noon, "kitchen", body, "k" + std::to_string(i), {}, "phone"});
      }
      store->append({key, "void", noon, noon, "kitchen", R"({"entry":2})", "k4", 2, "phone"});
    }
  }

  void by_hand(const std::string& sql) const {
    SQLite::Database database(file.string(), SQLite::OPEN_READWRITE);
    database.exec(sql);
  }

  std::vector<std::string> faults() const { return check(file).faults; }
  std::string first_fault() const {
    const auto found = faults();
    return found.empty() ? "" : found.front();
  }

  cellarer::testing::TemporaryFolder folder;
  std::filesystem::path file = folder.path() / file_name;
};

}  // namespace

TEST_CASE("the hash is SHA-256", "[chain]") {
  // NIST FIPS 180-4, example "abc" (csrc.nist.gov, Secure Hash Standard examples).
  CHECK(chain::hex(chain::sha256("abc")) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(chain::fields({"ab", "c"}) != chain::fields({"a", "bc"}));
  CHECK(chain::new_salt() != chain::new_salt());
}

TEST_CASE("every household and every entry has its link, in the chain of its agency", "[chain]") {
  const Kept kept;
  CHECK(kept.faults().empty());
  SQLite::Database database(kept.file.string(), SQLite::OPEN_READONLY);
  CHECK(chain::head(database, "north").number == 10);
  CHECK(chain::head(database, "south").number == 5);
  CHECK(chain::head(database, "west").number == 0);
}

TEST_CASE("what was done to the file by hand is found and named", "[chain]") {
  const Kept kept;
  const auto found = [&](const std::string& sql) {
    kept.by_hand(sql);
    return kept.first_fault();
  };
  using cellarer::testing::holds;
  SECTION("an entry changed") {
    CHECK_THAT(found("UPDATE entry SET body = '{\"percent\":90}' WHERE household_id = 2 AND number = 3"),
               holds("entry 3 of household north/h-2 was changed"));
  }
  SECTION("the time of an entry changed") {
    CHECK_THAT(found("UPDATE entry SET at = at + 1 WHERE household_id = 3 AND number = 1"),
               holds("entry 1 of household south/h-1 was changed"));
  }
  SECTION("the link that an entry names changed") {
    CHECK_THAT(found("UPDATE entry SET link = 1 WHERE household_id = 1 AND number = 3"),
               holds("entry 3 of household north/h-1 was changed"));
  }
  SECTION("an entry removed, with the counter set back") {
    kept.by_hand("UPDATE household SET last_entry = 3 WHERE id = 1; DELETE FROM voided WHERE household_id = 1");
    CHECK_THAT(found("DELETE FROM entry WHERE household_id = 1 AND number = 4"),
               holds("entry 4 of household north/h-1 is missing"));
  }
  SECTION("an entry inserted, with the counter moved") {
    kept.by_hand("UPDATE household SET last_entry = 5 WHERE id = 1");
    CHECK_THAT(
        found("INSERT INTO entry SELECT household_id, 5, kind, at, recorded_at, who, body, NULL, NULL FROM entry "
              "WHERE household_id = 1 AND number = 1"),
        holds("entry 5 of household north/h-1 was inserted"));
  }
  SECTION("a household changed") {
    CHECK_THAT(found("UPDATE household SET document = '{}' WHERE id = 2"), holds("household north/h-2 was changed"));
  }
  SECTION("an entry marked as taken back") {
    CHECK_THAT(found("INSERT INTO voided VALUES (1, 1, 3)"), holds("marked void by none"));
  }
  SECTION("an entry removed with its record, with the counter set back") {
    kept.by_hand("UPDATE household SET last_entry = 3 WHERE id = 1; DELETE FROM voided WHERE household_id = 1");
    kept.by_hand("DELETE FROM entry WHERE household_id = 1 AND number = 4");
    CHECK_THAT(found("DELETE FROM chain_record WHERE household_id = 1 AND entry = 4"),
               holds("is gone, and no erasure names it"));
  }
  SECTION("a link changed") {
    CHECK_THAT(found("UPDATE chain_link SET content_hash = zeroblob(32) WHERE agency = 'north' AND number = 4"),
               holds("link 4 of the chain of north was changed"));
  }
  SECTION("a link removed") {
    CHECK_THAT(found("DELETE FROM chain_link WHERE agency = 'north' AND number = 4"),
               holds("link 4 of the chain of north is missing"));
  }
  SECTION("who did it changed") {
    CHECK_THAT(found("UPDATE chain_record SET who = 'another' WHERE agency = 'south' AND number = 2"),
               holds("entry 1 of household south/h-1 was changed (link 2 of the chain of south)"));
  }
}

TEST_CASE("an erasure leaves no record behind, though the links that entries name were changed by hand", "[chain]") {
  const Kept kept;
  const bool changed = GENERATE(false, true);
  CAPTURE(changed);
  open_sqlite_store(kept.file)->note({"north/h-1", "admin", "exported", noon});
  if (changed) kept.by_hand("UPDATE entry SET link = NULL WHERE household_id = 1 AND number = 3");
  CHECK(open_sqlite_store(kept.file)->erase({"north/h-1", 4, {}, noon, "admin"}).outcome == Outcome::stored);
  SQLite::Database database(kept.file.string(), SQLite::OPEN_READONLY);
  CHECK(database.execAndGet("SELECT count(*) FROM chain_record WHERE household_id = 1").getInt() == 0);
  CHECK(database.execAndGet("SELECT count(*) FROM chain_record WHERE household_id = 2").getInt() == 5);
  CHECK(kept.faults().empty());
}

namespace {

/// The same with a planner, a guest, and a phone that has ended; and a home that was erased with its phone.
struct KeptWithAccounts : Kept {
  KeptWithAccounts() {
    const auto store = open_sqlite_store(file);
    const auto invite = [&](StoredAccount account) {
      account.created_at = noon;
      const StoredInvitation invitation{"i-" + account.id, account.id, "", true, noon, noon + std::chrono::hours(1)};
      store->access().invite(account, invitation, std::string(32, account.id.front()));
    };
    StoredAccount guest{"guest", "north", "north/h-1", "guest", "Grandmother"};
    guest.hours = StoredAccount::Hours{8 * 60, 20 * 60};
    guest.zone = "Europe/Oslo";
    guest.until = noon + std::chrono::days(2);
    invite({"planner", "north", "", "planner", "Desk"});
    invite(guest);
    invite({"ended", "north", "north/h-1", "household", "Kitchen"});
    invite({"hall", "north", "north/h-2", "household", "Hall"});
    invite({"operator", "", "", "operator", "Us"});
    store->access().end_account("ended", "lost", {"planner", noon});
    const std::vector<ErasedStock> left{{"cells", "A1", 24, 8, 0, 0, 16}, {"tape", "", 5, 5, 0, 0, 0}};
    REQUIRE(store->erase({"north/h-2", 4, left, noon, "admin"}).outcome == Outcome::stored);
    REQUIRE(store->erase({"north/h-1", 0, {}, noon, "admin"}).outcome == Outcome::more_was_recorded);
  }
};

}  // namespace

TEST_CASE("ways in, and what erased homes left, that were changed by hand are found and named", "[chain]") {
  const KeptWithAccounts kept;
  const auto found = [&](const std::string& sql) {
    kept.by_hand(sql);
    return kept.first_fault();
  };
  using cellarer::testing::holds;
  SECTION("nothing done") { CHECK(kept.faults().empty()); }
  SECTION("a phone made an administrator") {
    CHECK_THAT(found("UPDATE account SET role = 'administrator', household = '' WHERE id = 'guest'"),
               holds("account guest was changed"));
  }
  SECTION("a phone moved to another home") {
    CHECK_THAT(found("UPDATE account SET household = 'north/h-3' WHERE id = 'guest'"),
               holds("account guest was changed"));
  }
  SECTION("a planner moved to another agency") {
    CHECK_THAT(found("UPDATE account SET agency = 'south' WHERE id = 'planner'"), holds("account planner was changed"));
  }
  SECTION("a guest let in for longer") {
    CHECK_THAT(found("UPDATE account SET until = until + 86400 WHERE id = 'guest'"),
               holds("account guest was changed"));
    CHECK_THAT(found("UPDATE account SET until = until - 86400, hours_to = 1439 WHERE id = 'guest'"),
               holds("account guest was changed"));
  }
  SECTION("an ended account opened again") {
    CHECK_THAT(found("UPDATE account SET ended_at = NULL WHERE id = 'ended'"),
               holds("account ended was ended, and is open again"));
  }
  SECTION("an account inserted") {
    CHECK_THAT(
        found("INSERT INTO account SELECT 'new', agency, household, 'administrator', label, hours_from, hours_to, "
              "zone, until, created_at, bound_at, recovery_used_at, ended_at, ended_why FROM account WHERE id = "
              "'planner'"),
        holds("account new was inserted"));
  }
  SECTION("the account of an erased home used again") {
    CHECK_THAT(found("UPDATE account SET ended_at = NULL, role = 'operator' WHERE id = 'hall'"),
               holds("account hall was inserted"));
  }
  SECTION("an account removed") {
    CHECK_THAT(found("DELETE FROM invitation WHERE account = 'planner'; DELETE FROM account WHERE id = 'planner'"),
               holds("account planner is missing"));
  }
  SECTION("what a home left made less") {
    CHECK_THAT(found("UPDATE erased_stock SET left_behind = left_behind - 10 WHERE item = 'cells'"),
               holds("what erased homes of north left of cells, lot A1, is not what their erasures say"));
  }
  SECTION("what a home left removed") {
    CHECK_THAT(found("DELETE FROM erased_stock WHERE item = 'tape'"), holds("north left of tape"));
  }
  SECTION("what no home left") {
    CHECK_THAT(found("INSERT INTO erased_stock VALUES ('south', 'cells', '', 1, 0, 0, 0, 1)"),
               holds("south left of cells"));
  }
}

TEST_CASE("of an erased household nothing but hashes is left in the file", "[chain]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  const auto store = open_sqlite_store(file);
  store->create_household({"north/h-7", R"({"area":"Wisteria Lane"})", "k", noon});
  store->append({"north/h-7", "reading", noon, noon, "wisteria phone", R"({"note":"wisteria"})", "k-wisteria"});
  const auto contains = [&](const std::string& word) {
    for (const auto& part : {file, std::filesystem::path(file.string() + "-wal")}) {
      std::ifstream stream(part, std::ios::binary);
      const std::string bytes(std::istreambuf_iterator<char>(stream), {});
      if (bytes.find(word) != std::string::npos) return true;
    }
    return false;
  };
  REQUIRE(contains("isteria"));
  REQUIRE(contains("h-7"));
  REQUIRE(store->erase({"north/h-7", 1, {}, noon, "admin"}).outcome == Outcome::stored);
  CHECK_FALSE(contains("isteria"));
  CHECK_FALSE(contains("h-7"));
  CHECK(check(file).faults.empty());
}
