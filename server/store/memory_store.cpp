// SPDX-License-Identifier: MIT
#include "server/store/memory_store.hpp"

#include <algorithm>
#include <map>
#include <mutex>

namespace cellarer::store {

namespace {

struct Kept {
  StoredHousehold household;
  std::vector<StoredEntry> entries;
  std::map<std::string, std::int64_t> keys;
};

class MemoryStore final : public Store {
 public:
  HouseholdWritten create_household(const NewHousehold& household) override {
    const std::lock_guard lock(mutex_);
    if (const auto used = keys_.find(household.key); used != keys_.end()) {
      const StoredHousehold& then = households_.at(used->second).household;
      const bool same = then.reference == household.reference && then.document == household.document;
      return {same ? Outcome::repeated : Outcome::key_reused, then};
    }
    if (const auto found = households_.find(household.reference); found != households_.end()) {
      return {Outcome::household_exists, found->second.household};
    }
    Kept kept;
    kept.household = {household.reference, household.document, household.recorded_at, 0};
    households_[household.reference] = kept;
    keys_[household.key] = household.reference;
    return {Outcome::stored, kept.household};
  }

  EntryWritten append(const NewEntry& entry) override {
    const std::lock_guard lock(mutex_);
    const auto found = households_.find(entry.household);
    if (found == households_.end()) return {Outcome::unknown_household, {}};
    Kept& kept = found->second;
    if (const auto used = kept.keys.find(entry.key); used != kept.keys.end()) {
      const StoredEntry& then = numbered(kept, used->second);
      const bool same = then.kind == entry.kind && then.body == entry.body;
      return {same ? Outcome::repeated : Outcome::key_reused, then};
    }
    const auto number = kept.household.last_entry + 1;
    if (entry.voids) {
      if (*entry.voids < 1 || *entry.voids >= number) return {Outcome::unknown_entry, {}};
      StoredEntry& target = numbered(kept, *entry.voids);
      if (target.voided_by) return {Outcome::already_voided, target};
      target.voided_by = number;
    }
    kept.household.last_entry = number;
    kept.keys[entry.key] = number;
    kept.entries.push_back(
        {number, entry.kind, entry.at, entry.recorded_at, entry.who, entry.body, entry.voids, std::nullopt});
    return {Outcome::stored, kept.entries.back()};
  }

  std::optional<StoredHousehold> household(const std::string& reference) override {
    const std::lock_guard lock(mutex_);
    const auto found = households_.find(reference);
    if (found == households_.end()) return std::nullopt;
    return found->second.household;
  }

  std::vector<StoredHousehold> households(const std::string& after, std::size_t limit) override {
    const std::lock_guard lock(mutex_);
    std::vector<StoredHousehold> page;
    for (auto at = households_.upper_bound(after); at != households_.end() && page.size() < limit; ++at) {
      page.push_back(at->second.household);
    }
    return page;
  }

  std::vector<StoredEntry> entries(const std::string& household) override {
    const std::lock_guard lock(mutex_);
    const auto found = households_.find(household);
    return found == households_.end() ? std::vector<StoredEntry>{} : found->second.entries;
  }

  std::vector<StoredEntry> newest_entries(const std::string& household, std::optional<std::int64_t> before,
                                          std::size_t limit) override {
    auto page = entries(household);
    std::reverse(page.begin(), page.end());
    if (before) std::erase_if(page, [&](const StoredEntry& entry) { return entry.number >= *before; });
    if (page.size() > limit) page.resize(limit);
    return page;
  }

  std::optional<StoredEntry> entry(const std::string& household, std::int64_t number) override {
    const std::lock_guard lock(mutex_);
    const auto found = households_.find(household);
    if (found == households_.end() || number < 1 || number > found->second.household.last_entry) return std::nullopt;
    return numbered(found->second, number);
  }

  bool ready() override { return true; }
  void checkpoint() override {}

 private:
  static StoredEntry& numbered(Kept& kept, std::int64_t number) {
    return kept.entries.at(static_cast<std::size_t>(number - 1));
  }

  std::mutex mutex_;
  std::map<std::string, Kept> households_;
  std::map<std::string, std::string> keys_;  ///< of creations, to the reference
};

}  // namespace

std::unique_ptr<Store> open_memory_store() { return std::make_unique<MemoryStore>(); }

}  // namespace cellarer::store
