// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <vector>

#include <SQLiteCpp/Database.h>

namespace cellarer::store {

/// How long a connection waits for the file: a backup, a check, or `cellarer account` may hold it for a moment.
inline constexpr int busy_wait_ms = 5000;

/// Connections for reading beside the writer: in WAL mode a reader sees the last commit and waits for no
/// one. A connection is used by one thread at a time, and comes back when its handle ends.
class ReaderPool {
 public:
  using Handle = std::unique_ptr<SQLite::Database, std::function<void(SQLite::Database*)>>;

  explicit ReaderPool(std::filesystem::path file) : file_(std::move(file)) {}

  Handle borrow();
  /// Ends the connections that nobody is using.
  void close();

 private:
  std::filesystem::path file_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<SQLite::Database>> idle_;
};

}  // namespace cellarer::store
