// SPDX-License-Identifier: MIT
// Findings with what became of them: which are open, which were closed, and which came back.
#include <algorithm>

#include "server/service/finding_document.hpp"
#include "server/service/reviewed_agency.hpp"

namespace cellarer::service {

namespace {

/// So many further sets, and the finding still stands: what closed it did not end it.
constexpr int sets_that_reopen = 4;

std::vector<FindingNote> notes_of(const std::vector<FindingNote>& all, const std::string& id) {
  std::vector<FindingNote> found;
  for (const auto& note : all) {
    if (note.finding == id) found.push_back(note);
  }
  return found;
}

const ReviewedHome* home_named(const ReviewedHomes& homes, const std::string& reference) {
  const auto found =
      std::find_if(homes.begin(), homes.end(), [&](const auto& home) { return home->reference == reference; });
  return found == homes.end() ? nullptr : found->get();
}

/// Sets of what the finding concerns that came out after `at`.
int sets_since(const ReviewedHomes& homes, const review::Finding& finding, Instant at) {
  int sets = 0;
  for (const auto& home : homes) {
    if (!finding.household.empty() && home->reference != finding.household) continue;
    for (const auto& record : home->history.records) {
      const bool of_subject = finding.household.empty()
                                  ? record.lot == finding.subject || record.unit == finding.subject
                                  : review::in_scope(record.side, finding.scope);
      if (record.observed && record.to > at && of_subject) ++sets;
    }
  }
  return sets;
}

std::vector<std::string> homes_of(const ReviewedAgency& agency, const review::Finding& finding) {
  if (!finding.household.empty()) return {finding.household};
  const auto& pooled = finding.kind == review::Kind::bad_lot ? agency.review.lots : agency.review.units;
  for (const auto& one : pooled) {
    if (one.subject == finding.subject) return one.homes;
  }
  return {};
}

ListedFinding listed(const ReviewedAgency& agency, const ReviewedHomes& homes, const review::Finding& finding) {
  ListedFinding one;
  one.id = finding.id;
  one.household = finding.household;
  one.raised_at = finding.raised_at;
  one.homes = homes_of(agency, finding);
  const auto* home = home_named(homes, finding.household);
  one.document = finding_document(finding, home != nullptr ? home->zone : nullptr);
  one.notes = notes_of(home != nullptr ? home->notes : agency.bench.notes, finding.id);
  settle_state(one, one.notes.empty() ? 0 : sets_since(homes, finding, one.notes.back().at));
  return one;
}

/// Noted once, and not raised by the records as they are now: as it was then.
void add_former(std::vector<ListedFinding>& all, const std::vector<FindingNote>& notes, const std::string& household) {
  for (const auto& note : notes) {
    const bool there =
        std::any_of(all.begin(), all.end(), [&](const ListedFinding& one) { return one.id == note.finding; });
    if (there || !note.as_it_was.is_object()) continue;
    ListedFinding one;
    one.id = note.finding;
    one.household = household;
    one.notes = notes_of(notes, note.finding);
    one.document = one.notes.back().as_it_was;
    if (!household.empty()) one.homes.push_back(household);
    one.raised_at = json::parse_rfc3339(one.document.value("raised_at", "")).value_or(note.at);
    one.borne_out = one.notes.back().state == FindingState::closed;
    one.state = FindingState::closed;
    all.push_back(std::move(one));
  }
}

bool overlap(const ListedFinding& a, const ListedFinding& b) {
  const auto first = a.document.value("scope", "both"), second = b.document.value("scope", "both");
  return first == "both" || second == "both" || first == second;
}

/// What was found anew of a side whose earlier finding was closed.
void mark_reopening(std::vector<ListedFinding>& all) {
  for (auto& one : all) {
    if (!one.notes.empty() || !concerns_use(one.id)) continue;
    Instant newest{};
    for (const auto& former : all) {
      if (former.household != one.household || !concerns_use(former.id) || former.state != FindingState::closed ||
          former.notes.empty() || !overlap(one, former))
        continue;
      const Instant closed = former.notes.back().at;
      if (closed <= newest || closed > one.raised_at + std::chrono::hours(24)) continue;
      newest = closed;
      one.reopens = former.id;
    }
  }
}

}  // namespace

void settle_state(ListedFinding& finding, int new_sets) {
  finding.reopens.clear();
  finding.state = finding.notes.empty() ? FindingState::open : finding.notes.back().state;
  if (finding.state != FindingState::closed || new_sets < sets_that_reopen) return;
  finding.state = FindingState::open;
  finding.reopens = finding.id;
}

std::vector<ListedFinding> listed_findings(const ReviewedAgency& agency, const ReviewedHomes& homes) {
  std::vector<ListedFinding> all;
  for (const auto& finding : agency.review.findings) all.push_back(listed(agency, homes, finding));
  for (const auto& home : homes) add_former(all, home->notes, home->reference);
  add_former(all, agency.bench.notes, "");
  mark_reopening(all);
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.raised_at > b.raised_at; });
  return all;
}

}  // namespace cellarer::service
