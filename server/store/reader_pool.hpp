// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

#include <SQLiteCpp/Database.h>

#include "server/store/prepared.hpp"

namespace cellarer::store {

/// How long a connection waits for the file: a backup, a check, or `cellarer account` may hold it for a moment.
inline constexpr int busy_wait_ms = 5000;

/// Connections for reading beside the writer: in WAL mode a reader sees the last commit and waits for no
/// one. A connection is used by one thread at a time, with the statements that are kept for it, and comes back when its
/// handle ends.
class ReaderPool {
  struct Connection {
    explicit Connection(const std::filesystem::path& file);
    SQLite::Database database;
    PreparedStatements statements{database};
  };

 public:
  class Handle {
   public:
    explicit Handle(ReaderPool& pool)
        : pool_(pool), connection_(pool.take()), use_(std::in_place, connection_->statements) {}
    ~Handle() {
      use_.reset();
      pool_.put_back(std::move(connection_));
    }
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;

    SQLite::Database& operator*() const { return connection_->database; }
    SQLite::Database* operator->() const { return &connection_->database; }

   private:
    ReaderPool& pool_;
    std::unique_ptr<Connection> connection_;
    std::optional<PreparedStatements::Use> use_;
  };

  explicit ReaderPool(std::filesystem::path file) : file_(std::move(file)) {}

  Handle borrow() { return Handle(*this); }
  /// Ends the connections that nobody is using.
  void close();

 private:
  std::unique_ptr<Connection> take();
  void put_back(std::unique_ptr<Connection> connection);

  std::filesystem::path file_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<Connection>> idle_;
};

}  // namespace cellarer::store
