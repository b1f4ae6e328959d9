// SPDX-License-Identifier: MIT
#include "server/service/household_service.hpp"

#include <algorithm>

#include "server/household_key.hpp"
#include "server/service/folded_homes.hpp"
#include "server/service/held_back.hpp"
#include "server/service/newest_readings.hpp"
#include "server/service/said.hpp"

namespace cellarer::service {

using store::Outcome;
using store::StoredEntry;

namespace {

[[noreturn]] void key_reused() {
  throw Problem(ProblemCode::key_reused,
                "This Idempotency-Key was sent before with another content. Make a new key for each thing recorded; "
                "repeat a key only to send the same thing again.");
}

Problem with_entry(ProblemCode code, const std::string& detail, const StoredEntry& entry) {
  Problem problem(code, detail);
  problem.more["entry"] = entry.number;
  if (entry.voided_by) problem.more["voided_by"] = *entry.voided_by;
  return problem;
}

[[noreturn]] void refuse_end(const std::string& reason) {
  throw Problem(ProblemCode::out_of_range, "/at: " + reason, {{"/at", "out-of-range", reason}});
}

/// The household as it was known before, with the readings that were recorded since; null where it has to be read anew.
std::shared_ptr<Snapshot> grown(const Snapshot& before, const store::StoredHousehold& household, store::Store& store) {
  constexpr std::int64_t most_new = 8;
  const auto count = household.last_entry - before.last_entry;
  if (count < 1 || count > most_new) return nullptr;
  auto entries = store.newest_entries(household.reference, std::nullopt, static_cast<std::size_t>(count));
  std::reverse(entries.begin(), entries.end());
  // Somebody may have written since, or erased it.
  const bool next = !entries.empty() && entries.front().number == before.last_entry + 1;
  if (!next || static_cast<std::int64_t>(entries.size()) != count) return nullptr;
  auto snapshot = std::make_shared<Snapshot>(before);
  try {
    if (!add_newest_readings(snapshot->record, entries)) return nullptr;
  } catch (const json::Refused&) {
    return nullptr;
  }
  snapshot->last_entry = entries.back().number;
  return snapshot;
}

}  // namespace

Problem unknown_household(const std::string& reference) {
  return Problem(ProblemCode::unknown_household, "There is no household " + reference + " here: mend the address.");
}

bool HouseholdService::create(const std::string& household, const std::string& document, const std::string& key,
                              const std::string& account) {
  const auto written = store_.create_household({household, document, key, clock_.now(), account});
  if (written.outcome == Outcome::key_reused) key_reused();
  if (written.outcome == Outcome::household_exists) {
    throw Problem(ProblemCode::household_exists,
                  "The household " + reference_of(household) + " is there already: take another reference.");
  }
  changes_.tell(household);
  return written.outcome == Outcome::repeated;
}

store::NewEntry HouseholdService::to_store(const Write& write) {
  const Instant now = clock_.now();
  if (now > right_since_.load()) right_since_ = now;  // an entry of a later time is there from now on
  return {write.household, write.kind, write.at, now, write.who, write.body, write.key, write.voids, write.account};
}

Recorded HouseholdService::record(const Write& write) { return recorded(write, store_.append(to_store(write))); }

void HouseholdService::record_then(const Write& write, const std::function<void(std::function<Recorded()>)>& told) {
  store_.append_then(to_store(write),
                     [this, write, told](const store::EntryWritten* written, const std::exception_ptr& failure) {
                       if (written == nullptr)
                         told([failure]() -> Recorded { std::rethrow_exception(failure); });
                       else
                         told([this, write, written = *written] { return recorded(write, written); });
                     });
}

Recorded HouseholdService::recorded(const Write& write, const store::EntryWritten& written) {
  switch (written.outcome) {
    case Outcome::stored:
      changes_.tell(write.household);
      return {written.entry, false};
    case Outcome::repeated:
      return {written.entry, true};
    case Outcome::key_reused:
      key_reused();
    case Outcome::already_voided:
      throw with_entry(ProblemCode::already_voided,
                       "Entry " + std::to_string(written.entry.number) + " was taken back before.", written.entry);
    case Outcome::unknown_entry:
      throw Problem(ProblemCode::unknown_entry,
                    "This household has no entry " + std::to_string(write.voids.value_or(0)) + ".");
    case Outcome::household_exists:
    case Outcome::more_was_recorded:  // only of an erasure
    case Outcome::outdated:           // only of the journal
    case Outcome::unknown_household:
      break;
  }
  throw unknown_household(reference_of(write.household));
}

StoredEntry HouseholdService::require_entry(const std::string& household, std::int64_t number) {
  last_entry(household);  // an unknown household is said first
  const auto entry = store_.entry(household, number);
  if (!entry) throw Problem(ProblemCode::unknown_entry, "This household has no entry " + std::to_string(number) + ".");
  return *entry;
}

Recorded HouseholdService::undo(Write write, std::int64_t entry, const std::vector<std::int64_t>& with_it) {
  const StoredEntry target = require_entry(write.household, entry);
  if (target.kind == kind::undo) {
    throw with_entry(ProblemCode::cannot_be_voided, "Taking back is not taken back: record the thing again.", target);
  }
  write.voids = entry;
  if (with_it.empty()) return record(write);
  const Instant now = clock_.now();
  store::Batch batch;
  const auto add = [&](std::int64_t number, const std::string& body, const std::string& key) {
    batch.entries.push_back({write.household, write.kind, write.at, now, write.who, body, key, number, write.account});
  };
  for (const auto number : with_it)
    add(number, nlohmann::json{{"entry", number}}.dump(), write.key + "/" + std::to_string(number));
  add(entry, write.body, write.key);
  journal_.write_together(batch);
  changes_.tell(write.household);
  return {record(write).entry, false};  // it is there by now: this only reads it back
}

Recorded HouseholdService::answer(Write write, std::int64_t entry, bool still) {
  const StoredEntry target = require_entry(write.household, entry);
  if (still && target.kind != kind::paced_more) {
    throw with_entry(ProblemCode::nothing_to_answer, "Only what is paced more can go on.", target);
  }
  // Not "is it asked just now": the answer of a second phone, or one that arrives twice, is no error.
  const bool changes_cells = target.kind == kind::cell_change || target.kind == kind::back_home;
  if (!still && !changes_cells) {
    throw with_entry(ProblemCode::nothing_to_answer, "Only a change of cells can be the same as another.", target);
  }
  return record(write);
}

Recorded HouseholdService::end(const Write& write, std::int64_t entry) {
  const StoredEntry target = require_entry(write.household, entry);
  const bool lasts = target.kind == kind::paced_more || target.kind == kind::paced ||
                     target.kind == kind::switched_off || target.kind == kind::stay;
  if (!lasts) {
    throw with_entry(ProblemCode::nothing_to_end,
                     "Only more pacing, hours paced instead, a side switched off or a stay can end. From hospital "
                     "one comes back home.",
                     target);
  }
  if (write.at <= target.at) refuse_end("is not after the beginning: give a later time, or take the entry back");
  try {
    ended(target.kind, json::parse(target.body), json::rfc3339(write.at, nullptr));
  } catch (const json::Refused& refused) {
    refuse_end(refused.reason());
  }
  return record(write);
}

std::int64_t HouseholdService::last_entry(const std::string& household) {
  const auto stored = store_.household(household);
  if (!stored) throw unknown_household(reference_of(household));
  return stored->last_entry;
}

Lots HouseholdService::lots_of(const std::string& household) { return lots_.of(agency_of(household)); }

/// Reads all that the household recorded, and notes whether that can be done.
std::shared_ptr<Snapshot> HouseholdService::read(const store::StoredHousehold& household, const Profiles& profiles,
                                                 const Lots& lots) {
  try {
    const auto entries = store_.entries(household.reference);
    auto folded = fold(household, entries, AgencyLibraries(libraries_, profiles), *lots);
    auto snapshot = std::make_shared<Snapshot>();
    snapshot->last_entry = entries.empty() ? 0 : entries.back().number;
    snapshot->record = std::move(folded.record);
    snapshot->record.before_approval = before_approvals(household, entries, snapshot->record, libraries_, profiles);
    snapshot->profiles = profiles;
    snapshot->lots = lots;
    snapshot->voided_by = std::move(folded.voided_by);
    const std::lock_guard lock(mutex_);
    unreadable_.erase(household.reference);
    return snapshot;
  } catch (const store::StoreError&) {
    throw;
  } catch (const std::exception&) {
    const std::lock_guard lock(mutex_);
    unreadable_.insert(household.reference);
    throw;
  }
}

std::shared_ptr<const Snapshot> HouseholdService::snapshot(const std::string& household) {
  const auto stored = store_.household(household);
  if (!stored) throw unknown_household(reference_of(household));
  const auto agency = agencies_.of(agency_of(household));
  const auto profiles = profiles_.of(agency_of(household));
  const auto lots = lots_of(household);
  std::uint64_t erasures = 0;
  std::shared_ptr<KeptLessons> lessons;
  std::shared_ptr<const Snapshot> known;  // folded with the same profiles and lots
  {
    const std::lock_guard lock(mutex_);
    erasures = erasures_;
    const auto found = snapshots_.find(household);
    if (found != snapshots_.end()) lessons = found->second->record.lessons;
    if (found != snapshots_.end() && found->second->profiles == profiles && found->second->lots == lots)
      known = found->second;
    if (known && known->agency == agency && known->last_entry >= stored->last_entry) return known;
  }
  auto snapshot = known ? grown(*known, *stored, store_) : nullptr;
  const auto erased_since = [&] {
    const std::lock_guard lock(mutex_);
    return erasures != erasures_;
  };
  if (!snapshot || erased_since()) snapshot = read(*stored, profiles, lots);
  snapshot->agency = agency;
  snapshot->record.life.agency = *agency;
  for (auto& before : snapshot->record.before_approval) before.life.agency = *agency;
  snapshot->record.lessons = lessons ? std::move(lessons) : std::make_shared<KeptLessons>();
  const std::lock_guard lock(mutex_);
  if (erasures != erasures_) return snapshot;
  if (snapshots_.size() >= most_homes_folded) snapshots_.erase(snapshots_.begin());
  auto& kept = snapshots_[household];
  if (kept && kept->last_entry < snapshot->last_entry) recent_.came(snapshot->record.lessons);
  if (!kept || kept->agency != agency || kept->profiles != profiles || kept->lots != lots ||
      kept->last_entry <= snapshot->last_entry)
    kept = snapshot;
  return snapshot;
}

std::shared_ptr<const HomeLots> HouseholdService::home_lots_of(const std::string& household) {
  const auto stored = store_.household(household);
  if (!stored) throw unknown_household(reference_of(household));
  const auto profiles = profiles_.of(agency_of(household));
  const auto lots = lots_of(household);
  std::uint64_t erasures = 0;
  {
    const std::lock_guard lock(mutex_);
    erasures = erasures_;
    const auto found = home_lots_.find(household);
    if (found != home_lots_.end()) {
      KeptLots& kept = found->second;
      // A recall leaves a home's books as they were: who asks has the recalls themselves.
      const bool same_numbers = kept.lots == lots || reads_alike(*kept.home, *kept.lots, *lots);
      if (same_numbers) kept.lots = lots;
      if (same_numbers && kept.last_entry >= stored->last_entry && kept.profiles == profiles) return kept.home;
    }
  }
  const auto now = snapshot(household);
  auto home = std::make_shared<const HomeLots>(home_lots(now->record, clock_.now()));
  if (home->moves) return home;
  const std::lock_guard lock(mutex_);
  if (erasures == erasures_) home_lots_[household] = {now->last_entry, now->profiles, now->lots, home};
  return home;
}

std::vector<StoredEntry> HouseholdService::entries(const std::string& household, std::optional<std::int64_t> before,
                                                   std::size_t limit) {
  const auto now = snapshot(household);
  auto page = store_.newest_entries(household, before, limit);
  for (StoredEntry& entry : page) {
    const auto found = now->voided_by.find(entry.number);
    if (!entry.voided_by && found != now->voided_by.end()) entry.voided_by = found->second;
  }
  return page;
}

std::vector<store::StoredHousehold> HouseholdService::households(const std::string& after, std::size_t limit) {
  return store_.households(after, limit);
}

/// Keys of one agency lie together: those after them belong to others.
std::vector<store::StoredHousehold> HouseholdService::households_of(const std::string& agency, const std::string& after,
                                                                    std::size_t limit) {
  auto page = store_.households(household_key(agency, after), limit);
  std::erase_if(page, [&](const auto& one) { return agency_of(one.reference) != agency; });
  for (auto& one : page) one.reference = reference_of(one.reference);
  return page;
}

std::string HouseholdService::kind_of_entry(const std::string& household, std::int64_t number) {
  return require_entry(household, number).kind;
}

}  // namespace cellarer::service
