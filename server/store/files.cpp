// SPDX-License-Identifier: MIT
#include "server/store/files.hpp"

#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Exception.h>

#include "server/store/migrations.hpp"
#include "server/store/reader_pool.hpp"
#include "server/store/store.hpp"

namespace cellarer::store {

namespace fs = std::filesystem;

namespace {

constexpr int all_pages = -1;

void flush(const fs::path& what) {
  const int file = open(what.c_str(), O_RDONLY | O_CLOEXEC);
  const bool flushed = file >= 0 && fsync(file) == 0;
  if (file >= 0) close(file);
  if (!flushed) throw StoreError("cannot flush " + what.string() + " to the disk");
}

}  // namespace

fs::path begin_file(const fs::path& to) {
  auto partial = to;
  partial += ".partial";
  fs::remove(partial);
  return partial;
}

void finish_file(const fs::path& partial, const fs::path& to) {
  fs::permissions(partial, fs::perms::owner_read | fs::perms::owner_write);
  flush(partial);
  fs::rename(partial, to);
  flush(fs::absolute(to).parent_path());
}

void remove_leftovers(const fs::path& folder) {
  if (!fs::is_directory(folder)) return;
  const auto yesterday = fs::file_time_type::clock::now() - std::chrono::days(1);
  for (const auto& file : fs::directory_iterator(folder)) {
    const auto name = file.path().filename().string();
    const auto has = [&](const char* part) { return name.find(part) != std::string::npos; };
    const bool ours = name.starts_with("cellarer.sqlite.") || name.starts_with("cellarer-");
    const bool unfinished = has(".partial") || has(".copied") || has(".restored") || has(".unverified");
    std::error_code gone;  // finished meanwhile, by whoever makes it
    const auto written = fs::last_write_time(file.path(), gone);
    if (ours && unfinished && !gone && written < yesterday) fs::remove(file.path());
  }
}

void copy_database(SQLite::Database& from, const fs::path& to) {
  const auto partial = begin_file(to);
  try {
    SQLite::Database target(partial.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    // What is busy or locked is answered, not thrown: the copy would be empty.
    if (SQLite::Backup(target, from).executeStep(all_pages) != SQLITE_DONE) {
      throw SQLite::Exception("the store is in use by another program");
    }
    target.exec("PRAGMA journal_mode = DELETE");
  } catch (const SQLite::Exception& error) {
    fs::remove(partial);
    throw StoreError("cannot write " + to.string() + ": " + error.what());
  }
  finish_file(partial, to);
}

SQLite::Database open_present(const fs::path& file) {
  if (!fs::is_regular_file(file)) throw StoreError("there is no store at " + file.string());
  try {
    SQLite::Database database(file.string(), SQLite::OPEN_READWRITE, busy_wait_ms);
    database.exec("PRAGMA query_only = ON");
    if (database.execAndGet("PRAGMA application_id").getInt() != application_id) {
      throw StoreError(file.string() + " is not a store of this program");
    }
    return database;
  } catch (const SQLite::Exception& error) {
    throw StoreError("cannot read " + file.string() + ": " + error.what());
  }
}

}  // namespace cellarer::store
