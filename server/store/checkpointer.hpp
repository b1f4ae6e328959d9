// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <condition_variable>
#include <filesystem>
#include <mutex>
#include <thread>

#include <SQLiteCpp/Database.h>

namespace cellarer::store {

/// Carries what is in the log over to the database, on a thread and a connection of its own, so that no writer waits
/// for it. (SQLite by itself does it in the commit that makes the log long.) Where the log grows all the same, because
/// writes never pause, the writer does it when there are 64 MB.
class Checkpointer {
 public:
  /// `writer` tells of each commit from now on, and carries nothing over by itself any more.
  Checkpointer(const std::filesystem::path& file, SQLite::Database& writer);
  ~Checkpointer();
  Checkpointer(const Checkpointer&) = delete;
  Checkpointer& operator=(const Checkpointer&) = delete;

  /// Nothing is carried over meanwhile: for who empties the log himself, which two at once cannot.
  template <class Work>
  void alone(const Work& work) {
    const std::lock_guard lock(at_work_);
    work();
  }

 private:
  static int has_committed(void* self, sqlite3* writer, const char* database, int pages);
  void loop();
  void carry_over();

  SQLite::Database database_;
  SQLite::Database& writer_;
  std::mutex mutex_;
  std::mutex at_work_;
  std::condition_variable grown_;
  bool is_long_ = false, ending_ = false;
  std::atomic<int> carried_pages_{0};  ///< of the log as it is now
  std::thread thread_;
};

}  // namespace cellarer::store
