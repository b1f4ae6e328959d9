// SPDX-License-Identifier: MIT
#include "server/store/group_commit.hpp"

#include <algorithm>
#include <future>
#include <memory>

#include <SQLiteCpp/Transaction.h>

#include "server/store/prepared.hpp"

namespace cellarer::store {

namespace {

constexpr std::size_t largest_group = 256;
constexpr std::chrono::milliseconds looked_for_others_every{250}, longest_wait_for_more{5};

std::int64_t data_version(SQLite::Database& database) {
  Prepared version(database, "PRAGMA data_version");
  (*version).executeStep();
  return (*version).getColumn(0).getInt64();
}

}  // namespace

GroupCommit::GroupCommit(SQLite::Database& database, std::function<void()> others_wrote)
    : database_(database),
      others_wrote_(std::move(others_wrote)),
      version_(data_version(database)),
      looked_at_(Clock::now()),
      thread_([this] { loop(); }) {}

GroupCommit::~GroupCommit() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  arrived_.notify_one();
  thread_.join();
}

void GroupCommit::run(Job job) {
  // Shared: the writer may still be at it when whoever waits has gone on.
  const auto done = std::make_shared<std::promise<void>>();
  auto durable = done->get_future();
  run_then(std::move(job), [done](const std::exception_ptr& failure) {
    if (failure)
      done->set_exception(failure);
    else
      done->set_value();
  });
  durable.get();
}

void GroupCommit::run_then(Job job, Told told) {
  bool enough = false;
  {
    const std::lock_guard lock(mutex_);
    queue_.push_back({std::move(job), std::move(told)});
    enough = queue_.size() == 1 || queue_.size() >= wanted_;
  }
  if (enough) arrived_.notify_one();
}

void GroupCommit::loop() {
  PreparedStatements prepared(database_);
  const PreparedStatements::Use use(prepared);
  for (;;) {
    auto group = next_group();
    if (group.empty()) {
      const std::lock_guard lock(mutex_);
      if (ending_ && queue_.empty()) return;
    }
    look_for_others();
    if (group.empty()) continue;
    const auto began = Clock::now();
    commit(group);
    commit_took_ = Clock::now() - began;
  }
}

/// Empty where nothing came for a while, or all is over.
std::deque<GroupCommit::Waiting> GroupCommit::next_group() {
  std::deque<Waiting> group;
  std::unique_lock lock(mutex_);
  arrived_.wait_for(lock, looked_for_others_every, [this] { return ending_ || !queue_.empty(); });
  if (!queue_.empty() && queue_.size() < wanted_) {
    const auto moment = std::min<Clock::duration>(commit_took_ / 8, longest_wait_for_more);
    arrived_.wait_for(lock, moment, [this] { return ending_ || queue_.size() >= wanted_; });
  }
  while (!queue_.empty() && group.size() < largest_group) {
    group.push_back(std::move(queue_.front()));
    queue_.pop_front();
  }
  wanted_ = std::max<std::size_t>(1, group.size());
  return group;
}

void GroupCommit::look_for_others() {
  const auto now = Clock::now();
  if (!others_wrote_ || now - looked_at_ < looked_for_others_every) return;
  looked_at_ = now;
  try {
    const auto version = data_version(database_);
    if (version == version_) return;
    version_ = version;
  } catch (const SQLite::Exception&) {  // then nobody knows
  }
  others_wrote_();
}

/// Whoever cannot take it, for want of memory say, has lost an answer; the others have not.
void GroupCommit::tell(const Waiting& waiting, const std::exception_ptr& failure) {
  try {
    waiting.told(failure);
  } catch (...) {
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
      tell(group.front(), std::current_exception());
      return;
    }
    for (Waiting& waiting : group) {
      std::deque<Waiting> alone;
      alone.push_back(std::move(waiting));
      commit(alone);
    }
    return;
  }
  for (Waiting& waiting : group) tell(waiting, nullptr);
}

}  // namespace cellarer::store
