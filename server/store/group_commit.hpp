// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>

#include <SQLiteCpp/Database.h>

namespace cellarer::store {

/// One writer with group commit. A commit costs a flush of the disk whatever it holds, so everything that
/// waits when the writer comes round goes into one transaction, and each caller is told only after that
/// commit. A job that throws takes nobody with it: the group is rolled back and its jobs are then run
/// one by one.
///
/// Whoever was answered with a commit often writes again at once. A commit that begins with the first of them leaves
/// the others waiting for two; so the writer waits a moment for as many as came last, a small part of what a commit
/// takes.
class GroupCommit {
 public:
  using Job = std::function<void(SQLite::Database&)>;
  /// Hears null once the job is durable, otherwise what the job, or the commit, threw.
  using Told = std::function<void(std::exception_ptr)>;

  /// `others_wrote` is called on the writer's thread, within a quarter of a second after another program has written
  /// into the same file.
  explicit GroupCommit(SQLite::Database& database, std::function<void()> others_wrote = nullptr);
  ~GroupCommit();
  GroupCommit(const GroupCommit&) = delete;
  GroupCommit& operator=(const GroupCommit&) = delete;

  /// Runs `job` inside a transaction on the writer's thread and returns when it is durable. Rethrows what
  /// the job, or the commit, threw.
  void run(Job job);
  /// The same without a thread that waits: `told` is called once, on the writer's thread, which everybody else waits
  /// for. It is short and throws nothing. Whoever still waits when the writer goes is told before.
  void run_then(Job job, Told told);

  /// Transactions committed so far: less than the number of jobs where writes came together.
  std::size_t commits() const { return commits_; }

 private:
  struct Waiting {
    Job job;
    Told told;
  };

  using Clock = std::chrono::steady_clock;

  void loop();
  std::deque<Waiting> next_group();
  void commit(std::deque<Waiting>& group);
  static void tell(const Waiting& waiting, const std::exception_ptr& failure);
  void look_for_others();

  SQLite::Database& database_;
  std::function<void()> others_wrote_;
  std::int64_t version_ = 0;  ///< of the file, but for what this connection wrote
  Clock::time_point looked_at_;
  Clock::duration commit_took_{0};
  std::size_t wanted_ = 1;  ///< under the mutex: so many that the writer waits for no more
  std::mutex mutex_;
  std::condition_variable arrived_;
  std::deque<Waiting> queue_;
  bool ending_ = false;
  std::atomic<std::size_t> commits_{0};
  std::thread thread_;
};

}  // namespace cellarer::store
