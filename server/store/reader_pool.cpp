// SPDX-License-Identifier: MIT
#include "server/store/reader_pool.hpp"

namespace cellarer::store {

ReaderPool::Connection::Connection(const std::filesystem::path& file)
    : database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_NOMUTEX, busy_wait_ms) {  // one thread at a time
  database.exec("PRAGMA query_only = ON");
}

std::unique_ptr<ReaderPool::Connection> ReaderPool::take() {
  {
    const std::lock_guard lock(mutex_);
    if (!idle_.empty()) {
      auto connection = std::move(idle_.back());
      idle_.pop_back();
      return connection;
    }
  }
  return std::make_unique<Connection>(file_);
}

void ReaderPool::put_back(std::unique_ptr<Connection> connection) {
  const std::lock_guard lock(mutex_);
  idle_.push_back(std::move(connection));
}

void ReaderPool::close() {
  const std::lock_guard lock(mutex_);
  idle_.clear();
}

}  // namespace cellarer::store
