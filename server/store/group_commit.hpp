// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <future>
#include <mutex>
#include <thread>

#include <SQLiteCpp/Database.h>

namespace cellarer::store {

/// One writer with group commit. A commit costs a flush of the disk whatever it holds, so everything that
/// waits when the writer comes round goes into one transaction, and each caller is told only after that
/// commit. A job that throws takes nobody with it: the group is rolled back and its jobs are then run
/// one by one.
class GroupCommit {
 public:
  using Job = std::function<void(SQLite::Database&)>;

  explicit GroupCommit(SQLite::Database& database);
  ~GroupCommit();
  GroupCommit(const GroupCommit&) = delete;
  GroupCommit& operator=(const GroupCommit&) = delete;

  /// Runs `job` inside a transaction on the writer's thread and returns when it is durable. Rethrows what
  /// the job, or the commit, threw.
  void run(Job job);

  /// Transactions committed so far: less than the number of jobs where writes came together.
  std::size_t commits() const { return commits_; }

 private:
  struct Waiting {
    Job job;
    std::promise<void> done;
  };

  void loop();
  void commit(std::deque<Waiting>& group);

  SQLite::Database& database_;
  std::mutex mutex_;
  std::condition_variable arrived_;
  std::deque<Waiting> queue_;
  bool ending_ = false;
  std::atomic<std::size_t> commits_{0};
  std::thread thread_;
};

}  // namespace cellarer::store
