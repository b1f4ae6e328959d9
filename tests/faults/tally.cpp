// SPDX-License-Identifier: MIT
#include "tests/faults/tally.hpp"

#include <algorithm>
#include <cstdio>

namespace cellarer::testing {

namespace {

/// Prints when the program ends, after the last test.
struct Table {
  std::vector<FaultRow> rows;
  ~Table() {
    if (rows.empty()) return;
    std::printf("\n| fault | times | acknowledged | lost | doubled |\n|---|---|---|---|---|\n");
    for (const auto& row : rows) {
      std::printf("| %s | %d | %lld | %lld | %lld |\n", row.fault.c_str(), row.times,
                  static_cast<long long>(row.acknowledged), static_cast<long long>(row.lost),
                  static_cast<long long>(row.doubled));
    }
  }
};

Table& table() {
  static Table all;
  return all;
}

}  // namespace

void compare(FaultRow& row, const std::set<std::string>& acknowledged, const std::vector<std::string>& there) {
  std::map<std::string, int> times;
  for (const auto& name : there) ++times[name];
  for (const auto& [name, count] : times) row.doubled += count > 1 ? 1 : 0;
  for (const auto& name : acknowledged) row.lost += times.count(name) == 0 ? 1 : 0;
}

void print_at_end(const FaultRow& row) {
  auto& rows = table().rows;
  const auto same = std::find_if(rows.begin(), rows.end(), [&](const FaultRow& one) { return one.fault == row.fault; });
  if (same == rows.end()) {
    rows.push_back(row);
    return;
  }
  same->times += row.times;
  same->acknowledged += row.acknowledged;
  same->lost += row.lost;
  same->doubled += row.doubled;
}

}  // namespace cellarer::testing
