// SPDX-License-Identifier: MIT
#include "server/store/memory_store.hpp"

#include <algorithm>
#include <map>
#include <mutex>
#include <tuple>

#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/store/agency_rows.hpp"
#include "server/store/chain.hpp"
#include "server/store/memory_access_store.hpp"
#include "server/store/memory_reminder_store.hpp"

namespace cellarer::store {

namespace {

/// A link, and whose: empty where of no household.
struct Link {
  AuditLink audit;
  std::string household;
};

struct Kept {
  StoredHousehold household;
  std::vector<StoredEntry> entries;
  std::map<std::string, std::int64_t> keys;
};

struct Journal {
  std::vector<StoredAgencyEntry> entries;
  std::map<std::string, std::size_t> keys;  ///< to the place in `entries`
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
    link(household.reference, {household.recorded_at, household.account, "household", "", household.document});
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
    link(entry.household, {entry.recorded_at, entry.account, entry.kind, std::to_string(number), entry.body});
    kept.entries.push_back(
        {number, entry.kind, entry.at, entry.recorded_at, entry.who, entry.body, entry.voids, std::nullopt});
    return {Outcome::stored, kept.entries.back()};
  }

  AgencyEntryWritten append(const NewAgencyEntry& entry) override {
    const std::lock_guard lock(mutex_);
    auto& journal = journals_[entry.agency];
    if (const auto used = journal.keys.find(entry.key); used != journal.keys.end()) {
      const StoredAgencyEntry& then = journal.entries[used->second];
      const bool same = then.kind == entry.kind && then.subject == entry.subject && then.body == entry.body;
      return {same ? Outcome::repeated : Outcome::key_reused, then};
    }
    const auto like = std::find_if(journal.entries.rbegin(), journal.entries.rend(), [&](const auto& one) {
      return one.kind == entry.kind && one.subject == entry.subject;
    });
    const StoredAgencyEntry newest = like == journal.entries.rend() ? StoredAgencyEntry{} : *like;
    if (entry.follows && newest.number != *entry.follows) return {Outcome::outdated, newest};
    add_link(entry.agency, "",
             {entry.recorded_at, entry.account, rows::journal_action + entry.kind, entry.subject, entry.body});
    journal.keys[entry.key] = journal.entries.size();
    journal.entries.push_back({chains_[entry.agency].back().audit.number, entry.kind, entry.subject, entry.recorded_at,
                               entry.account, entry.body});
    return {Outcome::stored, journal.entries.back()};
  }

  BatchWritten write_together(const Batch& batch) override {
    const std::lock_guard lock(mutex_);
    const auto before = std::tuple(households_, keys_, chains_, last_hash_, journals_);
    BatchWritten written;
    const auto keep = [&](Outcome outcome) {
      written.outcome = outcome;
      if (is_kept(outcome)) ++written.failed;
      return is_kept(outcome);
    };
    const bool all = std::all_of(batch.households.begin(), batch.households.end(),
                                 [&](const auto& one) { return keep(create_household(one).outcome); }) &&
                     std::all_of(batch.entries.begin(), batch.entries.end(),
                                 [&](const auto& one) { return keep(append(one).outcome); }) &&
                     std::all_of(batch.agency_entries.begin(), batch.agency_entries.end(),
                                 [&](const auto& one) { return keep(append(one).outcome); });
    if (all) return {Outcome::stored, written.failed};
    std::tie(households_, keys_, chains_, last_hash_, journals_) = before;
    return written;
  }

  std::vector<StoredAgencyEntry> agency_entries(const std::string& agency, std::int64_t after) override {
    const std::lock_guard lock(mutex_);
    auto all = journals_[agency].entries;
    std::erase_if(all, [&](const auto& entry) { return entry.number <= after; });
    return all;
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

  ErasedHousehold erase(const Erasure& erasure) override {
    const std::lock_guard lock(mutex_);
    const auto found = households_.find(erasure.household);
    if (found == households_.end()) return {Outcome::unknown_household};
    const auto entries = found->second.household.last_entry;
    if (entries != erasure.last_entry) return {Outcome::more_was_recorded};
    households_.erase(found);
    reminders_.erase(erasure.household);
    access_.erase_phones(erasure.household, erasure.at);
    std::erase_if(keys_, [&](const auto& key) { return key.second == erasure.household; });
    const auto agency = agency_of(erasure.household);
    for (const auto& stock : erasure.stock) leave(stocks_[agency], stock);
    ErasedHousehold erased{Outcome::stored, entries, 0};
    for (Link& one : chains_[agency]) {
      if (one.household != erasure.household) continue;
      one = {{one.audit.number, one.audit.content_hash, one.audit.hash, true, {}, "", "", "", ""}, ""};
      ++erased.links;
    }
    add_link(agency, "", {erasure.at, erasure.account, "erased", "household", std::to_string(erased.entries)});
    return erased;
  }

  std::vector<ErasedStock> erased_stock(const std::string& agency) override {
    const std::lock_guard lock(mutex_);
    std::vector<ErasedStock> all;
    for (const auto& [key, stock] : stocks_[agency]) all.push_back(stock);
    return all;
  }

  void note(const AuditEvent& event) override {
    const std::lock_guard lock(mutex_);
    link(event.household, {event.at, event.account, event.action, "household", "{}"});
  }

  void keep_learned(const std::string& agency, const std::string& document, Instant at) override {
    const std::lock_guard lock(mutex_);
    learned_[agency].emplace_back(at, document);
    add_link(agency, "", {at, "", learned_action, "households", document});
  }

  std::optional<std::string> newest_learned(const std::string& agency, Instant until) override {
    const std::lock_guard lock(mutex_);
    std::optional<std::string> newest;
    for (const auto& [at, document] : learned_[agency]) {
      if (at <= until) newest = document;
    }
    return newest;
  }

  std::vector<AuditLink> audit(const std::string& agency, std::optional<std::int64_t> before,
                               std::size_t limit) override {
    const std::lock_guard lock(mutex_);
    std::vector<AuditLink> page;
    const auto& links = chains_[agency];
    for (auto link = links.rbegin(); link != links.rend() && page.size() < limit; ++link) {
      if (!before || link->audit.number < *before) page.push_back(link->audit);
    }
    return page;
  }

  /// Nobody reaches into memory by hand.
  std::vector<std::string> audit_faults(const std::string&) override { return {}; }

  std::optional<LaterRecord> recorded_after(Instant now) override {
    const std::lock_guard lock(mutex_);
    std::optional<LaterRecord> newest;
    for (const auto& [reference, kept] : households_) {
      for (const StoredEntry& entry : kept.entries) {
        const bool counts = entry.recorded_at > now && !entry.voids && !entry.voided_by;
        if (counts && (!newest || entry.recorded_at > newest->recorded_at))
          newest = LaterRecord{reference, entry.number, entry.recorded_at};
      }
    }
    return newest;
  }

  bool ready() override { return true; }
  void checkpoint() override {}
  AccessStore& access() override { return access_; }
  ReminderStore& reminders() override { return reminders_; }

 private:
  struct Told {
    Instant at;
    std::string who, action, subject, content;
  };

  void link(const std::string& household, const Told& told) { add_link(agency_of(household), household, told); }

  void add_link(const std::string& agency, const std::string& household, const Told& told) {
    auto& links = chains_[agency];
    const auto number = static_cast<std::int64_t>(links.size()) + 1;
    const auto content = chain::content_hash(
        chain::new_salt(),
        chain::fields({json::rfc3339(told.at, nullptr), told.who, told.action, told.subject, told.content}));
    auto& last = last_hash_[agency];
    last = chain::link_hash(agency, number, content, last);
    links.push_back({{number, chain::hex(content), chain::hex(last), false, told.at, told.who, told.action,
                      told.subject, household},
                     household});
  }

  using StockOfLots = std::map<std::pair<std::string, std::string>, ErasedStock>;
  static void leave(StockOfLots& stocks, const ErasedStock& more) {
    auto& stock = stocks.try_emplace({more.item, more.lot}, ErasedStock{more.item, more.lot}).first->second;
    stock.received += more.received;
    stock.used += more.used;
    stock.discarded += more.discarded;
    stock.unaccounted += more.unaccounted;
    stock.left_behind += more.left_behind;
  }

  static StoredEntry& numbered(Kept& kept, std::int64_t number) {
    return kept.entries.at(static_cast<std::size_t>(number - 1));
  }

  MemoryAccessStore access_;
  MemoryReminderStore reminders_{access_};
  std::recursive_mutex mutex_;  ///< `write_together` calls the others
  std::map<std::string, Kept> households_;
  std::map<std::string, std::string> keys_;  ///< of creations, to the reference
  std::map<std::string, std::vector<Link>> chains_;
  std::map<std::string, chain::Digest> last_hash_;
  std::map<std::string, std::vector<std::pair<Instant, std::string>>> learned_;  ///< by when they were kept
  std::map<std::string, Journal> journals_;
  std::map<std::string, StockOfLots> stocks_;
};

}  // namespace

std::unique_ptr<Store> open_memory_store() { return std::make_unique<MemoryStore>(); }

}  // namespace cellarer::store
