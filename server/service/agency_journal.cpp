// SPDX-License-Identifier: MIT
#include "server/service/agency_journal.hpp"

#include <set>

#include "server/error.hpp"

namespace cellarer::service {

using store::Outcome;

namespace {

Problem refusal(Outcome outcome) {
  switch (outcome) {
    case Outcome::outdated:
      return Problem(ProblemCode::outdated,
                     "Somebody else recorded something about this in the meantime, and nothing of yours was stored: "
                     "look at it again, then decide.");
    case Outcome::household_exists:
      return Problem(ProblemCode::household_exists, "A household of this reference is there already.");
    case Outcome::unknown_household:
      return Problem(ProblemCode::unknown_household, "One of the households is not there.");
    case Outcome::unknown_entry:
    case Outcome::already_voided:
      return Problem(ProblemCode::already_voided, "An entry that was to be taken back is not there, or was before.");
    default:
      return Problem(ProblemCode::key_reused,
                     "This Idempotency-Key was sent before with another content. Make a new key for each thing "
                     "recorded; repeat a key only to send the same thing again.");
  }
}

}  // namespace

const AgencyJournal::Entries& AgencyJournal::renewed(const std::string& agency) {
  Entries& kept = kept_[agency];
  const auto more = store_.agency_entries(agency, kept && !kept->empty() ? kept->back().number : 0);
  if (kept && more.empty()) return kept;
  auto all = kept ? *kept : std::vector<store::StoredAgencyEntry>{};
  all.insert(all.end(), more.begin(), more.end());
  return kept = std::make_shared<const std::vector<store::StoredAgencyEntry>>(std::move(all));
}

AgencyJournal::Entries AgencyJournal::of(const std::string& agency) {
  const std::lock_guard lock(mutex_);
  const auto found = kept_.find(agency);
  return found == kept_.end() ? renewed(agency) : found->second;
}

std::int64_t AgencyJournal::version(const std::string& agency) {
  const auto entries = of(agency);
  return entries->empty() ? 0 : entries->back().number;
}

AgencyRecorded AgencyJournal::record(const AgencyWrite& write) {
  const auto written = store_.append(
      {write.agency, write.kind, write.subject, clock_.now(), write.body, write.key, write.account, write.follows});
  if (!store::is_kept(written.outcome)) {
    auto problem = refusal(written.outcome);
    if (written.outcome == Outcome::outdated) problem.more["newest"] = written.entry.number;
    throw problem;
  }
  const std::lock_guard lock(mutex_);
  renewed(write.agency);
  return {written.entry, written.outcome == Outcome::repeated};
}

void AgencyJournal::write_together(const store::Batch& batch) {
  const auto written = store_.write_together(batch);
  if (!store::is_kept(written.outcome)) {
    auto problem = refusal(written.outcome);
    problem.more["failed"] = written.failed;
    throw problem;
  }
  std::set<std::string> agencies;
  for (const auto& entry : batch.agency_entries) agencies.insert(entry.agency);
  const std::lock_guard lock(mutex_);
  for (const auto& agency : agencies) renewed(agency);
}

}  // namespace cellarer::service
