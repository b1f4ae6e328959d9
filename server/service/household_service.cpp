// SPDX-License-Identifier: MIT
#include "server/service/household_service.hpp"

namespace cellarer::service {

using store::Outcome;
using store::StoredEntry;

namespace {

/// More households than this are folded again when they are next asked for.
constexpr std::size_t most_snapshots = 4096;

[[noreturn]] void unknown_household(const std::string& reference) {
  throw Problem(ProblemCode::unknown_household,
                "There is no household " + reference + ": create it first, or mend the address.");
}

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

}  // namespace

bool HouseholdService::create(const HouseholdFact& fact, const std::string& document, const std::string& key) {
  const auto written = store_.create_household({fact.reference, document, key, clock_.now()});
  if (written.outcome == Outcome::key_reused) key_reused();
  if (written.outcome == Outcome::household_exists) {
    throw Problem(ProblemCode::household_exists,
                  "The household " + fact.reference + " is there already: take another reference.");
  }
  return written.outcome == Outcome::repeated;
}

Recorded HouseholdService::record(const Write& write) {
  const auto written = store_.append(
      {write.household, write.kind, write.at, clock_.now(), write.who, write.body, write.key, write.voids});
  switch (written.outcome) {
    case Outcome::stored:
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
    case Outcome::unknown_household:
      break;
  }
  unknown_household(write.household);
}

StoredEntry HouseholdService::require_entry(const std::string& household, std::int64_t number) {
  last_entry(household);  // an unknown household is said first
  const auto entry = store_.entry(household, number);
  if (!entry) throw Problem(ProblemCode::unknown_entry, "This household has no entry " + std::to_string(number) + ".");
  return *entry;
}

Recorded HouseholdService::undo(Write write, std::int64_t entry) {
  const StoredEntry target = require_entry(write.household, entry);
  if (target.kind == kind::undo) {
    throw with_entry(ProblemCode::cannot_be_voided, "Taking back is not taken back: record the thing again.", target);
  }
  write.voids = entry;
  return record(write);
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
  if (write.at <= target.at) {
    const char* reason = "is not after the beginning: give a later time, or take the entry back";
    throw Problem(ProblemCode::out_of_range, std::string("/at ") + reason, {{"/at", "out-of-range", reason}});
  }
  return record(write);
}

std::int64_t HouseholdService::last_entry(const std::string& household) {
  const auto stored = store_.household(household);
  if (!stored) unknown_household(household);
  return stored->last_entry;
}

std::shared_ptr<const Snapshot> HouseholdService::snapshot(const std::string& household) {
  const auto stored = store_.household(household);
  if (!stored) unknown_household(household);
  {
    const std::lock_guard lock(mutex_);
    const auto found = snapshots_.find(household);
    if (found != snapshots_.end() && found->second->last_entry >= stored->last_entry) return found->second;
  }
  const auto entries = store_.entries(household);
  auto folded = fold(*stored, entries, libraries_);
  auto snapshot = std::make_shared<Snapshot>();
  snapshot->last_entry = entries.empty() ? 0 : entries.back().number;
  snapshot->record = std::move(folded.record);
  snapshot->voided_by = std::move(folded.voided_by);
  const std::lock_guard lock(mutex_);
  if (snapshots_.size() >= most_snapshots) snapshots_.erase(snapshots_.begin());
  auto& kept = snapshots_[household];
  if (!kept || kept->last_entry <= snapshot->last_entry) kept = snapshot;
  return snapshot;
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

}  // namespace cellarer::service
