// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>

#include "server/store/store.hpp"

namespace cellarer::store {

/// Households' rows as of the last commit, so that who asks whether something is new asks no file: with every forecast
/// that is read it is asked. A row is kept by whoever has read it, and renewed by whoever has written, before the write
/// is acknowledged. From any thread.
class KnownHouseholds {
 public:
  /// None where it is not kept.
  std::optional<StoredHousehold> find(const std::string& household);

  /// A moment before reading, to be handed to `keep` with what was read: a row that was read before something was
  /// forgotten is not kept.
  std::uint64_t moment();
  void keep(const StoredHousehold& row, std::uint64_t read_since);

  /// A new entry is durable.
  void wrote(const std::string& household, std::int64_t entry);
  /// Something about it is durable: it may be gone.
  void forget(const std::string& household);
  /// Another program has written, or nobody knows what was.
  void forget_all();

 private:
  static constexpr std::size_t most_kept = 16'384;  ///< about 10 MB

  std::mutex mutex_;
  std::unordered_map<std::string, StoredHousehold> kept_;
  std::uint64_t moment_ = 0;  ///< grows whenever a row that is being read now may be outdated
};

}  // namespace cellarer::store
