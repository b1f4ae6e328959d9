// SPDX-License-Identifier: MIT
#include "server/store/checkpointer.hpp"

#include <sqlite3.h>

#include <SQLiteCpp/Exception.h>
#include <SQLiteCpp/Statement.h>

#include "server/store/reader_pool.hpp"

namespace cellarer::store {

namespace {

constexpr int long_pages = 1000;       // as SQLite has it: 4 MB
constexpr int longest_pages = 16'000;  // 64 MB

}  // namespace

Checkpointer::Checkpointer(const std::filesystem::path& file, SQLite::Database& writer)
    : database_(file.string(), SQLite::OPEN_READWRITE, busy_wait_ms), writer_(writer), thread_([this] { loop(); }) {
  sqlite3_wal_hook(writer_.getHandle(), &Checkpointer::has_committed, this);
}

Checkpointer::~Checkpointer() {
  sqlite3_wal_hook(writer_.getHandle(), nullptr, nullptr);
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  grown_.notify_one();
  thread_.join();
}

/// On the writer's thread, after the commit.
int Checkpointer::has_committed(void* self, sqlite3* writer, const char* database, int pages) {
  auto& checkpointer = *static_cast<Checkpointer*>(self);
  if (pages >= longest_pages && checkpointer.at_work_.try_lock()) {
    sqlite3_wal_checkpoint_v2(writer, database, SQLITE_CHECKPOINT_PASSIVE, nullptr, nullptr);
    checkpointer.at_work_.unlock();
  }
  if (pages < checkpointer.carried_pages_) checkpointer.carried_pages_ = 0;  // the log began anew
  if (pages - checkpointer.carried_pages_ < long_pages) return SQLITE_OK;
  {
    const std::lock_guard lock(checkpointer.mutex_);
    checkpointer.is_long_ = true;
  }
  checkpointer.grown_.notify_one();
  return SQLITE_OK;
}

void Checkpointer::loop() {
  constexpr std::chrono::milliseconds pause{100};  // between two: each costs two flushes of the disk
  std::unique_lock lock(mutex_);
  for (;;) {
    grown_.wait(lock, [this] { return ending_ || is_long_; });
    if (ending_) return;
    is_long_ = false;
    lock.unlock();
    alone([this] { carry_over(); });
    lock.lock();
    grown_.wait_for(lock, pause, [this] { return ending_; });
  }
}

/// What cannot be carried over now is in the log, durable, and carried over the next time.
void Checkpointer::carry_over() {
  try {
    SQLite::Statement carry(database_, "PRAGMA wal_checkpoint(PASSIVE)");
    if (carry.executeStep()) carried_pages_ = carry.getColumn(2).getInt();
  } catch (const SQLite::Exception&) {
  }
}

}  // namespace cellarer::store
