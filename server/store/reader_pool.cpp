// SPDX-License-Identifier: MIT
#include "server/store/reader_pool.hpp"

namespace cellarer::store {

ReaderPool::Handle ReaderPool::borrow() {
  std::unique_ptr<SQLite::Database> connection;
  {
    const std::lock_guard lock(mutex_);
    if (!idle_.empty()) {
      connection = std::move(idle_.back());
      idle_.pop_back();
    }
  }
  if (!connection) {
    connection = std::make_unique<SQLite::Database>(file_.string(), SQLite::OPEN_READWRITE, busy_wait_ms);
    connection->exec("PRAGMA query_only = ON");
  }
  return Handle(connection.release(), [this](SQLite::Database* used) {
    std::unique_ptr<SQLite::Database> back(used);
    const std::lock_guard lock(mutex_);
    idle_.push_back(std::move(back));
  });
}

void ReaderPool::close() {
  const std::lock_guard lock(mutex_);
  idle_.clear();
}

}  // namespace cellarer::store
