// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <functional>
#include <memory>
#include <thread>

#include "server/store/sqlite_store.hpp"
#include "tests/faults/tally.hpp"

namespace cellarer::testing {

inline constexpr int clients = 16;

/// So many clients that write into a store without pause, each one thing after the other: what was not acknowledged is
/// sent again, under the same key, until it is. Every entry's body holds its name and nothing else.
class StoreLoad {
 public:
  /// Stores an entry of that household, whose body and key are the name. Throws `StoreError` where it is to be sent
  /// again.
  using WriteOne = std::function<void(const std::string& household, const std::string& name)>;

  /// Directly into the store, always at the same moment.
  explicit StoreLoad(store::Store& store);
  StoreLoad(store::Store& store, WriteOne write);
  ~StoreLoad() { end(); }
  StoreLoad(const StoreLoad&) = delete;
  StoreLoad& operator=(const StoreLoad&) = delete;

  /// Until so many more are acknowledged.
  void wait_for(std::size_t more) const;
  /// Ends after the write that each has under way; it may stay unacknowledged.
  void end();
  const Acknowledged& acknowledged() const { return acknowledged_; }
  int refused() const { return refused_; }

 private:
  void client(int number);

  WriteOne write_;
  Acknowledged acknowledged_;
  std::atomic<bool> ending_{false};
  std::atomic<int> refused_{0};
  std::vector<std::thread> threads_;
};

/// The names in the bodies of all entries.
std::vector<std::string> names_in(store::Store& store);

}  // namespace cellarer::testing
