// SPDX-License-Identifier: MIT
#pragma once
#include <exception>
#include <functional>
#include <memory>
#include <type_traits>

#include <SQLiteCpp/Exception.h>

#include "server/store/checkpointer.hpp"
#include "server/store/group_commit.hpp"
#include "server/store/reader_pool.hpp"
#include "server/store/store.hpp"

namespace cellarer::store {

/// SQLite's exceptions become the store's, so that nobody above knows the engine.
template <class Work>
auto translated(const Work& work) {
  try {
    return work();
  } catch (const SQLite::Exception& error) {
    throw StoreError(error.what());
  }
}

inline std::exception_ptr translated(const std::exception_ptr& failure) {
  try {
    translated([&] { std::rethrow_exception(failure); });
  } catch (...) {
    return std::current_exception();
  }
  return nullptr;  // not reached
}

/// One file with its writer and its readers, which the stores of entries and of access share, so that what belongs
/// together is one transaction.
class SqliteEngine {
 public:
  /// Opens with the pragmas that make a commit durable, and migrates. `others_wrote` as `GroupCommit` calls it. Throws
  /// `StoreError`.
  explicit SqliteEngine(const std::filesystem::path& file, std::function<void()> others_wrote = nullptr);

  /// Runs `work` in a transaction; its answer when that is durable.
  template <class Work>
  auto write(const Work& work) {
    using Result = std::invoke_result_t<Work, SQLite::Database&>;
    return translated([&] {
      if constexpr (std::is_void_v<Result>) {
        writer_.run([&](SQLite::Database& db) { work(db); });
      } else {
        Result result{};
        writer_.run([&](SQLite::Database& db) { result = work(db); });
        return result;
      }
    });
  }

  /// The same without a thread that waits: `told` hears the answer, or a null pointer and why there is none, as
  /// `GroupCommit::run_then` says.
  template <class Result>
  void write_then(std::function<Result(SQLite::Database&)> work,
                  std::function<void(const Result*, std::exception_ptr)> told) {
    const auto result = std::make_shared<Result>();
    writer_.run_then([result, work = std::move(work)](SQLite::Database& db) { *result = work(db); },
                     [result, told = std::move(told)](const std::exception_ptr& failure) {
                       if (failure)
                         told(nullptr, translated(failure));
                       else
                         told(result.get(), nullptr);
                     });
  }

  template <class Work>
  auto read(const Work& work) -> std::invoke_result_t<Work, SQLite::Database&> {
    return translated([&] {
      const auto connection = readers_.borrow();
      return work(*connection);
    });
  }

  /// Outside a transaction, so not through the writer's queue: for an orderly end, when the writer is idle.
  void checkpoint();
  /// What was erased is to be nowhere in the log either. Readers may keep it from being emptied just now: then the next
  /// writes overwrite it.
  void empty_log();

 private:
  SQLite::Database database_;  ///< of the writer's thread alone, once that runs
  Checkpointer checkpointer_;
  GroupCommit writer_;
  ReaderPool readers_;
};

}  // namespace cellarer::store
