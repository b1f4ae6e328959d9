// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <mutex>
#include <set>
#include <string>
#include <vector>

/// What was acknowledged, compared with what is there; and the table of all faults that the program prints at its end.
namespace cellarer::testing {

/// The names of writes that were acknowledged. Thread-safe.
class Acknowledged {
 public:
  void add(const std::string& name) {
    const std::lock_guard guard(mutex_);
    names_.insert(name);
  }
  std::set<std::string> names() const {
    const std::lock_guard guard(mutex_);
    return names_;
  }
  std::size_t count() const {
    const std::lock_guard guard(mutex_);
    return names_.size();
  }

 private:
  mutable std::mutex mutex_;
  std::set<std::string> names_;
};

struct FaultRow {
  std::string fault;
  int times = 0;                  ///< how often it happened
  std::int64_t acknowledged = 0;  ///< writes, in all
  std::int64_t lost = 0;          ///< acknowledged and not there
  std::int64_t doubled = 0;       ///< there more than once
};

/// Compares, adds to the row.
void compare(FaultRow& row, const std::set<std::string>& acknowledged, const std::vector<std::string>& there);
/// Keeps a row for the table at the end; what was kept of the same fault before is added to it.
void print_at_end(const FaultRow& row);

}  // namespace cellarer::testing
