// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

/// What is done to a store's file as a whole: copying it while the service runs, putting a copy in place,
/// and looking whether it is whole. Throws `StoreError`.
namespace cellarer::store {

/// SQLite's online backup: a copy as of one moment, though the service goes on writing. `to` must not be
/// there yet; it appears only when it is whole.
void backup(const std::filesystem::path& from, const std::filesystem::path& to);

/// Puts the copy `from` into the data folder `data`, which must hold no store yet, after looking whether it is
/// whole and of a schema this program knows.
void restore(const std::filesystem::path& from, const std::filesystem::path& data);

struct Report {
  int schema = 0;
  std::int64_t households = 0, entries = 0, voided = 0;
  /// The newest link of each agency's audit trail, "agency 412 9f86d081...": noted elsewhere, it shows later that
  /// nothing before it was rewritten.
  std::vector<std::string> heads;
  std::vector<std::string> faults;  ///< of SQLite's integrity check and of our own; empty: none found
};

Report check(const std::filesystem::path& file);

}  // namespace cellarer::store
