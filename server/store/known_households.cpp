// SPDX-License-Identifier: MIT
#include "server/store/known_households.hpp"

#include <algorithm>

namespace cellarer::store {

std::optional<StoredHousehold> KnownHouseholds::find(const std::string& household) {
  const std::lock_guard lock(mutex_);
  const auto found = kept_.find(household);
  if (found == kept_.end()) return std::nullopt;
  return found->second;
}

std::uint64_t KnownHouseholds::moment() {
  const std::lock_guard lock(mutex_);
  return moment_;
}

void KnownHouseholds::keep(const StoredHousehold& row, std::uint64_t read_since) {
  const std::lock_guard lock(mutex_);
  if (read_since != moment_) return;
  if (kept_.size() >= most_kept) {
    kept_.clear();
    ++moment_;
  }
  const auto [kept, is_new] = kept_.try_emplace(row.reference, row);
  if (!is_new) kept->second.last_entry = std::max(kept->second.last_entry, row.last_entry);
}

void KnownHouseholds::wrote(const std::string& household, std::int64_t entry) {
  const std::lock_guard lock(mutex_);
  const auto found = kept_.find(household);
  if (found == kept_.end())
    ++moment_;
  else
    found->second.last_entry = std::max(found->second.last_entry, entry);
}

void KnownHouseholds::forget(const std::string& household) {
  const std::lock_guard lock(mutex_);
  kept_.erase(household);
  ++moment_;
}

void KnownHouseholds::forget_all() {
  const std::lock_guard lock(mutex_);
  kept_.clear();
  ++moment_;
}

}  // namespace cellarer::store
