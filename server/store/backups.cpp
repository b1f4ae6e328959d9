// SPDX-License-Identifier: MIT
#include "server/store/backups.hpp"

#include <algorithm>
#include <fstream>

#include <SQLiteCpp/Exception.h>
#include <SQLiteCpp/Statement.h>

#include "server/store/files.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::store {

namespace fs = std::filesystem;

namespace {

/// A copy that anyone could read, where the store lies that they could read as well; gone at the end.
class PlainCopy {
 public:
  PlainCopy(const fs::path& beside, const char* what) : path_(beside.string() + what) { fs::remove(path_); }
  ~PlainCopy() {
    std::error_code ignored;
    fs::remove(path_, ignored);
  }
  PlainCopy(const PlainCopy&) = delete;
  PlainCopy& operator=(const PlainCopy&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

bool same_bytes(const fs::path& a, const fs::path& b) {
  std::ifstream one(a, std::ios::binary), other(b, std::ios::binary);
  const std::istreambuf_iterator<char> end;
  return std::equal(std::istreambuf_iterator<char>(one), end, std::istreambuf_iterator<char>(other), end);
}

/// Every agency's newest link in the copy is in the store too: what was copied is this store's past.
bool is_past_of(const fs::path& copy, const fs::path& store_file) {
  auto then = open_present(copy), now = open_present(store_file);
  SQLite::Statement heads(then, "SELECT agency, max(number), hash FROM chain_link GROUP BY agency");
  while (heads.executeStep()) {
    SQLite::Statement same(now, "SELECT count(*) FROM chain_link WHERE agency = ? AND number = ? AND hash = ?");
    same.bind(1, heads.getColumn(0).getString());
    same.bind(2, heads.getColumn(1).getInt64());
    same.bind(3, heads.getColumn(2).getBlob(), heads.getColumn(2).getBytes());
    same.executeStep();
    if (same.getColumn(0).getInt() != 1) return false;
  }
  return true;
}

Report verified(const fs::path& sealed, const fs::path& copy, const fs::path& store_file, const BackupKey& key) {
  const PlainCopy restored(store_file, ".restored");
  unseal(sealed, restored.path(), key);
  auto report = check(restored.path());
  if (!report.faults.empty()) throw StoreError("the backup is not whole: " + report.faults.front());
  if (!same_bytes(restored.path(), copy)) throw StoreError("the backup differs from what was copied");
  if (!is_past_of(restored.path(), store_file)) throw StoreError("the backup's trail is not the store's");
  return report;
}

}  // namespace

Report make_backup(const fs::path& store_file, const fs::path& to, const BackupKey& key) {
  if (fs::exists(to)) throw StoreError(to.string() + " is there already: name a new file");
  remove_leftovers(fs::absolute(store_file).parent_path());
  remove_leftovers(fs::absolute(to).parent_path());
  const PlainCopy copy(store_file, ".copied");
  backup(store_file, copy.path());
  const auto candidate = fs::path(to.string() + ".unverified");
  try {
    seal(copy.path(), candidate, key);
    auto report = verified(candidate, copy.path(), store_file, key);
    finish_file(candidate, to);
    return report;
  } catch (const SQLite::Exception& error) {
    fs::remove(candidate);
    throw StoreError(std::string("the backup cannot be compared: ") + error.what());
  } catch (...) {
    fs::remove(candidate);
    throw;
  }
}

void restore_backup(const fs::path& from, const fs::path& data, const BackupKey& key) {
  fs::create_directories(data);
  const PlainCopy plain(data / file_name, ".restored");
  unseal(from, plain.path(), key);
  restore(plain.path(), data);
}

Report check_backup(const fs::path& file, const fs::path& key_file) {
  const PlainCopy plain(key_file, ".restored");
  unseal(file, plain.path(), read_key(key_file));
  return check(plain.path());
}

}  // namespace cellarer::store
