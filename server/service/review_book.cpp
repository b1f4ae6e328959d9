// SPDX-License-Identifier: MIT
#include "server/service/review_book.hpp"

#include <algorithm>
#include <cmath>

#include "server/household_key.hpp"

namespace cellarer::service {

namespace {

/// How well the bench measures a current (tests/bench/faults: the same).
constexpr double bench_error = 0.015;

/// By the profile that sets are expected by: once a unit's measured values are approved, they say nothing against it.
double expected_mA(const BenchValue& value, const Libraries& libraries) {
  const auto profile = libraries.unit(value.serial, value.stimulator);
  return profile ? duty::burst_current_mA(profile->side(value.side), value.amplitude) : 0;
}

/// What was measured of a unit tells of the home that had it last.
void add_bench(std::vector<review::HouseholdHistory>& histories, const ReviewedAgency& agency,
               const Libraries& libraries) {
  for (const auto& value : agency.bench.values) {
    const double expected = expected_mA(value, libraries);
    if (!(expected > 0)) continue;
    std::optional<std::size_t> last;
    Instant since{};
    for (std::size_t h = 0; h < agency.homes.size(); ++h) {
      for (const auto& stay : agency.homes[h]->units) {
        if (stay.serial != value.serial || stay.spare || stay.from > value.at || stay.from < since) continue;
        since = stay.from;
        last = h;
      }
    }
    if (!last) continue;
    histories[*last].checks.push_back({review::Check::What::bench_current, histories[*last].household, value.side,
                                       value.at, value.serial, std::log(value.current_mA / expected), bench_error});
  }
}

/// What is said of a large agency until its first review is made: nothing.
std::shared_ptr<const ReviewedAgency> not_yet(Instant now) {
  auto nothing = std::make_shared<ReviewedAgency>();
  nothing->as_of = now;
  return nothing;
}

std::vector<review::PartService> parts_of(const ReviewedAgency& agency) {
  std::vector<review::PartService> parts;
  for (const auto& home : agency.homes) parts.insert(parts.end(), home->parts.begin(), home->parts.end());
  return parts;
}

void review_all(ReviewedAgency& agency, const Libraries& libraries) {
  std::vector<review::SetRecord> records;
  for (const auto& home : agency.homes) {
    agency.histories.push_back(home->history);
    records.insert(records.end(), home->history.records.begin(), home->history.records.end());
  }
  add_bench(agency.histories, agency, libraries);
  agency.options.spreads = review::Spreads::with_agency(*agency.knowledge);
  agency.options.spreads.set = review::pooled_set_spread(records, agency.options.spreads);
  agency.review = review::review_agency(agency.histories, agency.options);
  agency.findings = listed_findings(agency);
  agency.wear = review::wear(parts_of(agency), agency.as_of);
}

}  // namespace

ReviewBook::Shelved ReviewBook::shelf(const std::string& agency) {
  const std::lock_guard lock(mutex_);
  auto& found = shelves_[agency];
  if (!found) found = std::make_shared<Shelf>();
  return found;
}

std::shared_ptr<const ReviewedHome> ReviewBook::home(const std::string& household) {
  const auto snapshot = households_.snapshot(household);
  const auto reference = reference_of(household);
  const auto place = shelf(agency_of(household));
  {
    const std::lock_guard lock(mutex_);
    const auto found = place->homes.find(reference);
    if (found != place->homes.end() && is_as_of(*found->second, *snapshot)) return found->second;
  }
  auto made = std::make_shared<const ReviewedHome>(reviewed_home(*snapshot, reference, households_.clock().now()));
  const std::lock_guard lock(mutex_);
  place->homes[reference] = made;
  return made;
}

bool ReviewBook::holds(const ReviewedAgency& kept, const std::string& agency, std::size_t stale) {
  return stale == 0 && kept.journal_version == newest_of_bench(*households_.journal().of(agency)) &&
         kept.knowledge == households_.agencies().of(agency) &&
         kept.lots->corrected == households_.lots_of_agency(agency)->corrected;
}

Reviewed ReviewBook::of(const std::string& agency) {
  const auto place = shelf(agency);
  std::shared_ptr<const ReviewedAgency> kept;
  std::map<std::string, std::int64_t> entries;
  {
    const std::lock_guard lock(mutex_);
    kept = place->kept;
  }
  if (kept) {
    for (const auto& home : kept->homes) entries[home->reference] = home->last_entry;
  }
  std::size_t homes = 0, stale = 0, same = 0;
  std::string after;
  for (auto page = households_.households_of(agency, after, 500); !page.empty();
       page = households_.households_of(agency, after, 500)) {
    for (const auto& one : page) {
      ++homes;
      const auto found = entries.find(one.reference);
      found != entries.end() && found->second == one.last_entry ? ++same : ++stale;
    }
    after = page.back().reference;
  }
  stale += entries.size() - std::min(entries.size(), same + stale);  // erased ones
  if (kept && holds(*kept, agency, stale)) return {kept, 0};
  if (homes > small_agency) return {kept ? kept : not_yet(households_.clock().now()), stale};
  bring_up_to_date(agency, *place, std::atomic<bool>{false});
  const std::lock_guard lock(mutex_);
  return {place->kept, 0};
}

std::size_t ReviewBook::bring_up_to_date(const std::string& agency, Shelf& place, const std::atomic<bool>& ending) {
  const std::lock_guard working(place.working);
  auto made = std::make_shared<ReviewedAgency>();
  made->as_of = households_.clock().now();
  made->knowledge = households_.agencies().of(agency);
  made->lots = households_.lots_of_agency(agency);
  const auto journal = households_.journal().of(agency);
  made->journal_version = newest_of_bench(*journal);
  made->bench = read_bench_journal(*journal);
  std::shared_ptr<const ReviewedAgency> kept;
  std::map<std::string, std::shared_ptr<const ReviewedHome>> before;
  {
    const std::lock_guard lock(mutex_);
    kept = place.kept;
    before = place.homes;
  }
  std::size_t renewed = 0;
  households_.for_each_of(agency, [&](const std::string& household) {
    if (ending) return;
    auto one = home(household);
    const auto found = before.find(one->reference);
    if (found == before.end() || found->second != one) ++renewed;
    made->homes.push_back(std::move(one));
  });
  if (ending) return 0;
  const bool nothing_new = kept && kept->homes == made->homes && kept->journal_version == made->journal_version &&
                           kept->knowledge == made->knowledge;
  if (nothing_new) return 0;
  review_all(*made, *households_.profiles().libraries_of(agency));
  const std::lock_guard lock(mutex_);
  std::erase_if(place.homes, [&](const auto& one) {
    return std::none_of(made->homes.begin(), made->homes.end(),
                        [&](const auto& home) { return home->reference == one.first; });
  });
  place.kept = made;
  return std::max<std::size_t>(renewed, 1);
}

ListedFinding ReviewBook::note(const NoteWish& wish) {
  const std::lock_guard noting(noting_);
  const auto agency = of(wish.agency).agency;
  const auto found = std::find_if(agency->findings.begin(), agency->findings.end(),
                                  [&](const ListedFinding& one) { return one.id == wish.note.finding; });
  if (found == agency->findings.end())
    throw Problem(ProblemCode::unknown_finding, "There is no such finding now: read the list again.");
  ListedFinding finding = *found;
  const auto same = [&](const FindingNote& last) {
    return last.state == wish.note.state && last.reason == wish.note.reason && last.note == wish.note.note &&
           last.who == wish.note.who;
  };
  if (finding.newest() != wish.follows) {
    if (!finding.notes.empty() && same(finding.notes.back())) return finding;  // sent twice
    Problem problem(ProblemCode::outdated, "Somebody else has noted something since: read it first.");
    problem.more["newest"] = finding.newest();
    throw problem;
  }
  nlohmann::json body{{"finding", finding.id},
                      {"state", finding_states[static_cast<int>(wish.note.state)]},
                      {"as_it_was", finding.document}};
  if (!wish.note.reason.empty()) body["reason"] = wish.note.reason;
  if (!wish.note.note.empty()) body["note"] = wish.note.note;
  FindingNote note = wish.note;
  note.at = households_.clock().now();
  note.as_it_was = finding.document;
  if (finding.household.empty()) {
    body["who"] = wish.note.who;
    note.number = households_.journal()
                      .record({wish.agency, agency_kind::finding_note, finding.id, body.dump(), wish.key, wish.account,
                               wish.follows})
                      .entry.number;
  } else {
    const auto household = household_key(wish.agency, finding.household);
    note.number = households_
                      .record({household, kind::finding_note, note.at, wish.note.who, body.dump(), wish.key,
                               std::nullopt, wish.account})
                      .entry.number;
  }
  finding.notes.push_back(std::move(note));
  settle_state(finding, 0);
  keep_noted(wish.agency, finding);
  return finding;
}

/// Until the next renewal, which reads it from the entries.
void ReviewBook::keep_noted(const std::string& agency, const ListedFinding& finding) {
  const auto place = shelf(agency);
  const std::lock_guard lock(mutex_);
  if (!place->kept) return;
  auto noted = std::make_shared<ReviewedAgency>(*place->kept);
  for (auto& one : noted->findings) {
    if (one.id == finding.id) one = finding;
  }
  place->kept = std::move(noted);
}

void ReviewBook::forget(const std::string& household) {
  const auto place = shelf(agency_of(household));
  const std::lock_guard lock(mutex_);
  place->homes.erase(reference_of(household));
  place->kept = nullptr;
}

std::size_t ReviewBook::renew(const std::atomic<bool>& ending) {
  std::size_t renewed = 0;
  std::string agency, after;
  for (auto page = households_.households(after, 500); !page.empty(); page = households_.households(after, 500)) {
    for (const auto& one : page) {
      if (ending) return renewed;
      if (agency_of(one.reference) == agency) continue;
      agency = agency_of(one.reference);
      renewed += bring_up_to_date(agency, *shelf(agency), ending);
    }
    after = page.back().reference;
  }
  return renewed;
}

}  // namespace cellarer::service
