// SPDX-License-Identifier: MIT
// Encrypted backups: what is put back is what was there, and what was damaged does not open.
#include <sys/stat.h>

#include <atomic>
#include <fstream>
#include <thread>

#include "server/store/backups.hpp"
#include "server/store/files.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/noon.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using cellarer::testing::noon;
using namespace cellarer::store;
namespace fs = std::filesystem;

namespace {

std::string content(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

void put(const fs::path& file, const std::string& bytes) { std::ofstream(file, std::ios::binary) << bytes; }

struct Place {
  Place() { make_key(key_file); }
  fs::path in(const char* name) const { return folder.path() / name; }

  cellarer::testing::TemporaryFolder folder;
  fs::path key_file = folder.path() / "key", file = folder.path() / file_name;
};

void fill(Store& store, int entries) {
  store.create_household({"north/h-1", R"({"zone":"Europe/Oslo"})", "a", noon});
  for (int i = 0; i < entries; ++i) {
    const auto number = std::to_string(i);
    store.append({"north/h-1", "reading", noon, noon, "kitchen", R"({"percent":)" + number + "}", "k" + number});
  }
}

}  // namespace

TEST_CASE("a key is readable by its owner alone, made once, and refused where others can read it", "[backup]") {
  const Place place;
  struct stat about {};
  REQUIRE(stat(place.key_file.c_str(), &about) == 0);
  CHECK((about.st_mode & 0777) == 0600);
  CHECK_THROWS_AS(make_key(place.key_file), StoreError);
  CHECK(read_key(place.key_file) == read_key(place.key_file));
  make_key(place.in("other"));
  CHECK(read_key(place.in("other")) != read_key(place.key_file));
  fs::permissions(place.key_file, fs::perms::group_read, fs::perm_options::add);
  CHECK_THROWS_WITH(read_key(place.key_file), cellarer::testing::holds("others may read"));
  put(place.in("no key"), "abc\n");
  fs::permissions(place.in("no key"), fs::perms::owner_read);
  CHECK_THROWS_AS(read_key(place.in("no key")), StoreError);
}

TEST_CASE("what was encrypted comes back byte for byte, whatever its length", "[backup]") {
  const Place place;
  const auto key = read_key(place.key_file);
  for (const std::size_t length : {0, 1, 65535, 65536, 65537, 200000}) {
    std::string bytes(length, 'w');
    for (std::size_t i = 0; i < length; ++i) bytes[i] = static_cast<char>(i * 31 % 251);
    put(place.in("plain"), bytes);
    seal(place.in("plain"), place.in("sealed"), key);
    unseal(place.in("sealed"), place.in("again"), key);
    CHECK(content(place.in("again")) == bytes);
    CHECK(is_sealed(place.in("sealed")));
    CHECK_FALSE(is_sealed(place.in("again")));
  }
}

TEST_CASE("an encrypted file that was changed, cut, reordered or is another key's does not open", "[backup]") {
  const Place place;
  const auto key = read_key(place.key_file);
  constexpr std::size_t before = 16 + 24, piece = 65536 + 17;
  put(place.in("plain"), std::string(3 * 65536 + 5, 'w'));
  seal(place.in("plain"), place.in("sealed"), key);
  const auto sealed = content(place.in("sealed"));
  REQUIRE(sealed.size() == before + 3 * piece + 5 + 17);
  const auto refused = [&](const std::string& bytes) {
    put(place.in("bad"), bytes);
    CHECK_THROWS_AS(unseal(place.in("bad"), place.in("out"), key), StoreError);
    CHECK_FALSE(fs::exists(place.in("out")));
    CHECK_FALSE(fs::exists(place.in("out.partial")));
  };
  for (const std::size_t at : {std::size_t{3}, std::size_t{20}, before, before + piece + 100, sealed.size() - 1}) {
    auto bytes = sealed;
    bytes[at] = static_cast<char>(bytes[at] ^ 1);
    refused(bytes);
  }
  refused(sealed.substr(0, sealed.size() - 1));
  refused(sealed.substr(0, before + 3 * piece));
  refused(sealed.substr(0, before));
  refused(sealed + "x");
  refused(sealed.substr(0, before) + sealed.substr(before + piece));
  refused(sealed.substr(0, before) + sealed.substr(before + piece, piece) + sealed.substr(before, piece) +
          sealed.substr(before + 2 * piece));
  make_key(place.in("other"));
  CHECK_THROWS_AS(unseal(place.in("sealed"), place.in("out"), read_key(place.in("other"))), StoreError);
}

TEST_CASE("restore drill: a backup made while the service writes holds a moment of it, whole", "[backup]") {
  const Place place;
  const auto key = read_key(place.key_file);
  const auto store = open_sqlite_store(place.file);
  fill(*store, 20);
  std::atomic<bool> ending{false};
  std::thread writer([&] {
    for (int i = 100; !ending; ++i) {
      store->append({"north/h-1", "reading", noon, noon, "kitchen", "{}", "w" + std::to_string(i)});
    }
  });
  const auto report = make_backup(place.file, place.in("one.backup"), key);
  ending = true;
  writer.join();
  CHECK(report.entries >= 20);
  CHECK(content(place.in("one.backup")).find("Oslo") == std::string::npos);

  restore_backup(place.in("one.backup"), place.in("new"), key);
  const auto restored = open_sqlite_store(place.in("new") / file_name);
  const auto then = restored->entries("north/h-1"), now = store->entries("north/h-1");
  REQUIRE(static_cast<std::int64_t>(then.size()) == report.entries);
  REQUIRE(now.size() >= then.size());
  for (std::size_t i = 0; i < then.size(); ++i) {
    CHECK(then[i].body == now[i].body);
    CHECK(then[i].recorded_at == now[i].recorded_at);
  }
  CHECK(check(place.in("new") / file_name).faults.empty());
  CHECK(check_backup(place.in("one.backup"), place.key_file).entries == report.entries);
  CHECK_THROWS_AS(restore_backup(place.in("one.backup"), place.in("new"), key), StoreError);
  // Nothing unencrypted is left beside the store.
  for (const auto& file : fs::directory_iterator(place.folder.path())) {
    const auto name = file.path().filename().string();
    CHECK(name.find(".copied") == std::string::npos);
    CHECK(name.find(".restored") == std::string::npos);
    CHECK(name.find(".unverified") == std::string::npos);
  }
}

TEST_CASE("backups go by age, and the three newest stay", "[backup]") {
  const Place place;
  const auto folder = place.in("backups");
  fs::create_directory(folder);
  const BackupPlan plan{folder, place.key_file, 24, 8};
  const auto on = [](int day) { return noon + std::chrono::days(day); };
  for (const int day : {0, 1, 8, 9, 10}) put(folder / backup_name(on(day)), "");
  put(folder / "notes.backup", "");
  CHECK(backup_name(noon) == "cellarer-20260301T120000Z.backup");
  CHECK(backups_in(folder).size() == 5);
  CHECK(remove_old_backups(plan, on(10)) == 2);
  CHECK(backups_in(folder).front().first == on(8));
  CHECK(remove_old_backups({folder, place.key_file, 24, 1}, on(10)) == 0);
  CHECK(fs::exists(folder / "notes.backup"));
}

TEST_CASE("a clock that jumps ahead removes no backup; going on, it is believed after three", "[backup]") {
  const Place place;
  const auto folder = place.in("backups");
  fs::create_directory(folder);
  const BackupPlan plan{folder, place.key_file, 24, 30};
  const auto on = [](int day) { return noon + std::chrono::days(day); };
  for (int day = 0; day < 20; ++day) put(folder / backup_name(on(day)), "");
  const auto later = [&](int day) {
    put(folder / backup_name(on(day)), "");
    return remove_old_backups(plan, on(day));
  };
  CHECK(later(400) == 0);  // ten minutes of another year
  CHECK(remove_old_backups(plan, on(20)) == 0);
  CHECK(backups_in(folder).size() == 21);
  CHECK(later(20) == 0);  // the clock is right again; the one from the future stays beside
  CHECK(later(401) == 0);
  CHECK(later(402) == 21);  // so it was right after all: the service had stood still
  CHECK(backups_in(folder).size() == 3);
}

TEST_CASE("what a crash left half made goes after a day, and nothing else", "[backup]") {
  const Place place;
  const auto store = open_sqlite_store(place.file);
  fill(*store, 3);
  const auto folder = place.in("backups");
  fs::create_directory(folder);
  const auto begun = backup_name(noon);
  const std::vector<fs::path> left = {place.in("cellarer.sqlite.copied"), place.in("cellarer.sqlite.restored.partial"),
                                      place.in("cellarer.sqlite.schema-1.partial"), folder / (begun + ".unverified"),
                                      folder / (begun + ".unverified.partial")};
  const std::vector<fs::path> others = {folder / begun, folder / "letter.partial",
                                        place.in("cellarer.sqlite.schema-1")};
  for (const auto& files : {left, others}) {
    for (const auto& file : files) {
      put(file, "half of a store");
      fs::last_write_time(file, fs::file_time_type::clock::now() - std::chrono::hours(25));
    }
  }
  const auto under_way = folder / (backup_name(noon + std::chrono::hours(1)) + ".unverified");
  put(under_way, "begun just now");
  make_backup(place.file, folder / backup_name(noon + std::chrono::days(1)), read_key(place.key_file));
  for (const auto& file : left) {
    CAPTURE(file.string());
    CHECK_FALSE(fs::exists(file));
  }
  for (const auto& file : others) CHECK(fs::exists(file));
  CHECK(fs::exists(under_way));
}

TEST_CASE("a backup is looked at beside its key, not in a folder that others share", "[backup]") {
  const Place place;
  const auto store = open_sqlite_store(place.file);
  fill(*store, 3);
  make_backup(place.file, place.in("one.backup"), read_key(place.key_file));
  put(place.in("key.restored"), "left by a crash");
  const char* before = std::getenv("TMPDIR");
  const std::string kept = before == nullptr ? "" : before;
  setenv("TMPDIR", place.in("nowhere").c_str(), 1);  // whoever used the shared folder would fail
  CHECK(check_backup(place.in("one.backup"), place.key_file).entries == 3);
  if (before == nullptr) {
    unsetenv("TMPDIR");
  } else {
    setenv("TMPDIR", kept.c_str(), 1);
  }
  CHECK_FALSE(fs::exists(place.in("key.restored")));
}

TEST_CASE("a store that another program holds is not copied, and no empty copy is left", "[backup]") {
  const Place place;
  const auto held = place.in("held");
  SQLite::Database holder(held.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  holder.exec("CREATE TABLE entry (number INTEGER); INSERT INTO entry VALUES (1)");
  SQLite::Database from(held.string(), SQLite::OPEN_READONLY);
  holder.exec("BEGIN EXCLUSIVE");  // sqlite.org/c3ref/backup_finish.html: a step then answers SQLITE_BUSY
  CHECK_THROWS_AS(copy_database(from, place.in("copy")), StoreError);
  CHECK_FALSE(fs::exists(place.in("copy")));
  CHECK_FALSE(fs::exists(place.in("copy.partial")));
  holder.exec("COMMIT");
  copy_database(from, place.in("copy"));
  CHECK(fs::exists(place.in("copy")));
}

TEST_CASE("a schedule makes the backup that is due", "[backup]") {
  const Place place;
  const auto store = open_sqlite_store(place.file);
  fill(*store, 3);
  const FakeClock clock(noon);
  const auto folder = place.in("backups");
  fs::create_directory(folder);
  const auto left = folder / (backup_name(noon - std::chrono::days(2)) + ".unverified");
  put(left, "half of a store");
  fs::last_write_time(left, fs::file_time_type::clock::now() - std::chrono::hours(25));
  const BackupSchedule schedule(place.file, {folder, place.key_file, 24, 30}, clock);
  for (int tries = 0; tries < 1000 && backups_in(folder).empty(); ++tries) {
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  REQUIRE(backups_in(folder).size() == 1);
  CHECK(check_backup(backups_in(folder).front().second, place.key_file).entries == 3);
  CHECK_FALSE(fs::exists(left));
  CHECK_THROWS_AS(BackupSchedule(place.file, {folder, place.in("no key"), 24, 30}, clock), StoreError);
}
