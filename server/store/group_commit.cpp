// SPDX-License-Identifier: MIT
#include "server/store/group_commit.hpp"

#include <exception>

#include <SQLiteCpp/Transaction.h>

namespace cellarer::store {

namespace {
constexpr std::size_t largest_group = 256;
}

GroupCommit::GroupCommit(SQLite::Database& database) : database_(database), thread_([this] { loop(); }) {}

GroupCommit::~GroupCommit() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  arrived_.notify_one();
  thread_.join();
}

void GroupCommit::run(Job job) {
  std::future<void> durable;
  {
    const std::lock_guard lock(mutex_);
    queue_.push_back({std::move(job), {}});
    durable = queue_.back().done.get_future();
  }
  arrived_.notify_one();
  durable.get();
}

void GroupCommit::loop() {
  for (;;) {
    std::deque<Waiting> group;
    {
      std::unique_lock lock(mutex_);
      arrived_.wait(lock, [this] { return ending_ || !queue_.empty(); });
      if (queue_.empty()) return;
      while (!queue_.empty() && group.size() < largest_group) {
        group.push_back(std::move(queue_.front()));
        queue_.pop_front();
      }
    }
    commit(group);
  }
}

void GroupCommit::commit(std::deque<Waiting>& group) {
  try {
    SQLite::Transaction transaction(database_, SQLite::TransactionBehavior::IMMEDIATE);
    for (const Waiting& waiting : group) waiting.job(database_);
    transaction.commit();
    ++commits_;
  } catch (...) {
    if (group.size() == 1) {
      group.front().done.set_exception(std::current_exception());
      return;
    }
    for (Waiting& waiting : group) {
      std::deque<Waiting> alone;
      alone.push_back(std::move(waiting));
      commit(alone);
    }
    return;
  }
  for (Waiting& waiting : group) waiting.done.set_value();
}

}  // namespace cellarer::store
