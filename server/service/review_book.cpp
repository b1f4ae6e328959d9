// SPDX-License-Identifier: MIT
#include "server/service/review_book.hpp"

#include <algorithm>

#include "server/household_key.hpp"
#include "server/service/folded_homes.hpp"

namespace cellarer::service {

namespace {

/// What is said of a large agency until its first review is made: nothing.
std::shared_ptr<const ReviewedAgency> not_yet(Instant now) {
  auto nothing = std::make_shared<ReviewedAgency>();
  nothing->as_of = now;
  return nothing;
}

bool rest_on_the_same(const ReviewedAgency& kept, const ReviewedAgency& now) {
  return kept.journal_version == now.journal_version && kept.knowledge == now.knowledge &&
         kept.profiles == now.profiles && kept.lots->corrected == now.lots->corrected;
}

/// Households with newer entries than these homes, and homes that were erased since.
std::size_t changed_since(const std::vector<HomeOutline>& homes, const std::map<std::string, std::int64_t>& newest) {
  std::size_t same = 0;
  for (const auto& home : homes) {
    const auto found = newest.find(home.reference);
    if (found != newest.end() && found->second == home.last_entry) ++same;
  }
  return newest.size() - same + (homes.size() > newest.size() ? homes.size() - newest.size() : 0);
}

bool are_those(const std::vector<HomeOutline>& outlines, const ReviewedHomes& homes) {
  return std::equal(outlines.begin(), outlines.end(), homes.begin(), homes.end(), [](const auto& a, const auto& b) {
    return a.reference == b->reference && a.last_entry == b->last_entry;
  });
}

}  // namespace

ReviewBook::Shelved ReviewBook::shelf(const std::string& agency) {
  const std::lock_guard lock(mutex_);
  auto& found = shelves_[agency];
  if (!found) found = std::make_shared<Shelf>();
  return found;
}

std::shared_ptr<const ReviewedHome> ReviewBook::home(const std::string& household) {
  const auto place = shelf(agency_of(household));
  const auto reference = reference_of(household);
  std::uint64_t erased = 0;
  {
    const std::lock_guard lock(mutex_);
    erased = place->erased;
  }
  const auto snapshot = households_.snapshot(household);
  {
    const std::lock_guard lock(mutex_);
    const auto found = place->homes.find(reference);
    if (found != place->homes.end() && is_as_of(*found->second, *snapshot)) return found->second;
  }
  auto made = std::make_shared<const ReviewedHome>(reviewed_home(*snapshot, reference, households_.clock().now()));
  const std::lock_guard lock(mutex_);
  if (erased != place->erased) return made;
  place->homes[reference] = made;
  let_go_beyond_most();
  return made;
}

ReviewedHomes ReviewBook::homes(const std::string& agency, const std::set<std::string>& references) {
  ReviewedHomes found;
  for (const auto& reference : references) {
    try {
      found.push_back(home(household_key(agency, reference)));
    } catch (const json::Refused&) {
    } catch (const nlohmann::json::exception&) {
    } catch (const Problem& problem) {
      if (problem.code() != ProblemCode::unknown_household) throw;
    }
  }
  return found;
}

/// What a review of the agency would rest on now, beside its homes and what is read from this journal.
std::shared_ptr<ReviewedAgency> ReviewBook::begun(const std::string& agency, const Journal& journal) {
  auto made = std::make_shared<ReviewedAgency>();
  made->as_of = households_.clock().now();
  made->knowledge = households_.agencies().of(agency);
  made->profiles = households_.profiles().of(agency);
  made->lots = households_.lots_of_agency(agency);
  made->journal_version = newest_of_bench(journal);
  return made;
}

ReviewBook::Newest ReviewBook::newest_entries(const std::string& agency) {
  Newest newest;
  std::string after;
  for (auto page = households_.households_of(agency, after, 500); !page.empty();
       page = households_.households_of(agency, after, 500)) {
    for (const auto& one : page) newest[one.reference] = one.last_entry;
    after = page.back().reference;
  }
  return newest;
}

Reviewed ReviewBook::of(const std::string& agency) {
  const auto place = shelf(agency);
  std::shared_ptr<const ReviewedAgency> kept;
  bool let_go = false;
  {
    const std::lock_guard lock(mutex_);
    kept = place->kept;
    let_go = place->asked == 0;
    place->asked = ++asked_;
  }
  const auto newest = newest_entries(agency);
  const auto changed = kept ? changed_since(kept->homes, newest) : newest.size();
  if (kept && changed == 0 && rest_on_the_same(*kept, *begun(agency, *households_.journal().of(agency))))
    return {kept, 0, true};
  if (newest.size() > small_agency) {
    if (let_go) awaited_ = true;
    if (!kept) return {not_yet(households_.clock().now()), changed, false, false};
    return {kept, changed, changed == 0};
  }
  bring_up_to_date(agency, *place, std::atomic<bool>{false});
  const std::lock_guard lock(mutex_);
  if (!place->kept)  // a home was erased just now
    return {not_yet(households_.clock().now()), newest.size(), false, false};
  return {place->kept, 0, true};
}

std::size_t ReviewBook::bring_up_to_date(const std::string& agency, Shelf& place, const std::atomic<bool>& ending) {
  const std::lock_guard working(place.working);
  std::shared_ptr<const ReviewedAgency> kept;
  std::map<std::string, std::shared_ptr<const ReviewedHome>> before;
  std::uint64_t erased = 0;
  bool asked = false;
  {
    const std::lock_guard lock(mutex_);
    kept = place.kept;
    before = place.homes;
    erased = place.erased;
    asked = place.asked > 0;
    place.looked_at = households_.clock().now();
  }
  const auto journal = households_.journal().of(agency);
  const auto made = begun(agency, *journal);
  const auto newest = newest_entries(agency);
  const bool rests_on_the_same = kept && rest_on_the_same(*kept, *made);
  if (rests_on_the_same && changed_since(kept->homes, newest) == 0) return 0;
  std::size_t read = 0;
  ReviewedHomes homes;
  households_.for_each_of(agency, [&](const std::string& household) {
    if (ending) return;
    const auto reference = reference_of(household);
    const auto found = before.find(reference);
    const auto entry = newest.find(reference);
    if (found != before.end() && entry != newest.end() &&
        is_as_of(*found->second, entry->second, made->knowledge, made->profiles, made->lots)) {
      homes.push_back(found->second);
      return;
    }
    const auto snapshot = households_.snapshot(household);
    homes.push_back(std::make_shared<const ReviewedHome>(reviewed_home(*snapshot, reference, made->as_of)));
    if (!asked && newest.size() > most_homes_folded) households_.let_go(household);
    ++read;
  });
  if (ending) return 0;
  const bool nothing_new = rests_on_the_same && are_those(kept->homes, homes);
  if (!nothing_new) {
    made->bench = read_bench_journal(*journal);
    review_together(*made, homes, *households_.profiles().libraries_of(agency));
  }
  const std::lock_guard lock(mutex_);
  if (place.erased != erased) return 0;  // what was read may hold the erased home: the next renewal does without it
  if (!nothing_new) place.kept = made;
  keep_homes(place, homes);
  return nothing_new ? 0 : std::max<std::size_t>(read, 1);
}

/// Under the lock. Of an agency that nobody asked about, or that is too large, none.
void ReviewBook::keep_homes(Shelf& place, const ReviewedHomes& homes) {
  place.homes.clear();
  if (homes.size() > most_homes_) place.asked = 0;
  if (place.asked == 0) return;
  for (const auto& home : homes) place.homes[home->reference] = home;
  let_go_beyond_most();
}

/// Under the lock: whole agencies, those first about which nobody has asked for the longest time.
void ReviewBook::let_go_beyond_most() {
  std::size_t all = 0;
  for (const auto& [agency, place] : shelves_) all += place->homes.size();
  while (all > most_homes_) {
    Shelf* last = nullptr;
    for (const auto& [agency, place] : shelves_) {
      if (!place->homes.empty() && (last == nullptr || place->asked < last->asked)) last = place.get();
    }
    all -= last->homes.size();
    last->homes.clear();
    last->asked = 0;
  }
}

std::size_t ReviewBook::homes_with_sets() {
  const std::lock_guard lock(mutex_);
  std::size_t all = 0;
  for (const auto& [agency, place] : shelves_) all += place->homes.size();
  return all;
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
  ++place->erased;
}

std::size_t ReviewBook::renew_asked(const std::atomic<bool>& ending) {
  awaited_ = false;
  std::map<std::uint64_t, std::string, std::greater<>> asked;  // the latest question first
  {
    const std::lock_guard lock(mutex_);
    for (const auto& [agency, place] : shelves_) {
      if (place->asked > 0) asked[place->asked] = agency;
    }
  }
  std::size_t read = 0;
  for (const auto& [when, agency] : asked) {
    if (ending) break;
    read += bring_up_to_date(agency, *shelf(agency), ending);
  }
  return read;
}

bool ReviewBook::is_due(const std::string& agency) {
  const auto place = shelf(agency);
  const std::lock_guard lock(mutex_);
  if (place->asked > 0) return false;
  return !place->kept || !place->looked_at || households_.clock().now() - *place->looked_at >= reviewed_anew_after;
}

std::optional<std::size_t> ReviewBook::renew_next(const std::atomic<bool>& ending) {
  while (!ending) {
    // Keys of an agency's households lie together, and '0' comes after the slash in them.
    const auto after = renewed_last_.empty() ? "" : renewed_last_ + '0';
    const auto first = households_.households(after, 1);
    renewed_last_ = first.empty() ? "" : agency_of(first.front().reference);
    if (first.empty()) return std::nullopt;
    if (is_due(renewed_last_)) return bring_up_to_date(renewed_last_, *shelf(renewed_last_), ending);
  }
  return std::nullopt;
}

}  // namespace cellarer::service
