// SPDX-License-Identifier: MIT
#include "model/duty/paced_hours.hpp"

#include <algorithm>
#include <cassert>

#include "model/duty/wall_clock.hpp"

namespace cellarer::duty {

using std::chrono::days;
using std::chrono::seconds;

namespace {

/// `part` of an interval, kept about its middle; whole seconds.
Interval shrunk(Interval whole, double part) {
  const seconds length = whole.to - whole.from;
  const seconds kept = std::chrono::round<seconds>(part * std::chrono::duration<double>(length));
  const Instant from = whole.from + (length - kept) / 2;
  return {from, from + kept};
}

Intervals all_shrunk(Intervals intervals, double part) {
  for (Interval& one : intervals) one = shrunk(one, part);
  return intervals;
}

/// The pattern of one day made longer or shorter until `target` of it is paced.
Intervals with_hours(const Intervals& pattern, Interval day, seconds target) {
  const seconds length = day.to - day.from, paced = total(pattern);
  if (target >= length) return {day};
  if (target <= seconds(0)) return {};
  if (paced == seconds(0) || paced == length) {
    const auto part = static_cast<double>(target.count()) / static_cast<double>(length.count());
    return {shrunk(day, part)};
  }
  if (target <= paced) {
    return all_shrunk(pattern, static_cast<double>(target.count()) / static_cast<double>(paced.count()));
  }
  const auto part = static_cast<double>((length - target).count()) / static_cast<double>((length - paced).count());
  return gaps(all_shrunk(gaps(pattern, day), part), day);
}

/// Hours of each day of an entry, exactly or at least.
struct DailyHours {
  Instant from;
  std::optional<Instant> to;
  double hours_per_day = 24;
  bool at_least = false;
};

/// Appends to `paced` what one entry paced in `held`, the time for which it counts.
void append_entry(Intervals& paced, const Intervals& pattern, const DailyHours& entry, Interval held, Interval window,
                  Zone zone) {
  const Interval asked{std::max(held.from, window.from), std::min(held.to, window.to)};
  if (asked.empty() || entry.hours_per_day <= 0) return;
  if (entry.hours_per_day >= 24) {
    paced.push_back(asked);
    return;
  }
  WallClock clock(zone);
  const date::local_seconds first_wall = clock.wall(entry.from);
  const auto skipped = std::max(days(0), std::chrono::floor<days>(asked.from - entry.from) - days(2));
  for (days day = skipped;; day += days(1)) {
    const Instant from = day == days(0) ? entry.from : clock.instant(first_wall + day, WallClock::Edge::start);
    if (from >= asked.to) return;
    const Instant next = clock.instant(first_wall + day + days(1), WallClock::Edge::start);
    const Instant end = entry.to ? std::min(next, *entry.to) : next;
    if (end <= asked.from || end <= from) continue;
    const double share = end == next ? 1 : static_cast<double>((end - from).count()) / (24.0 * 3600);
    const auto target =
        std::chrono::round<seconds>(share * std::chrono::duration<double, std::ratio<3600>>(entry.hours_per_day));
    const Interval whole{from, end};
    const Intervals usual = within(pattern, whole);
    const bool enough = entry.at_least && total(usual) >= target;
    const Intervals day_paced = enough ? usual : with_hours(usual, whole, target);
    for (const Interval& one : within(day_paced, asked)) paced.push_back(one);
  }
}

}  // namespace

Intervals paced_by_settings(const std::vector<PacedSpan>& spans, Zone zone, Interval window) {
  if (window.empty()) return {};
  if (spans.empty()) return {window};
  assert(zone != nullptr);
  WallClock clock(zone);
  Intervals paced;
  // A span may have begun on the day before, and a zone may have skipped a whole day: two days each way.
  const auto last = date::floor<days>(clock.wall(window.to)) + days(2);
  for (auto day = date::floor<days>(clock.wall(window.from)) - days(2); day <= last; day += days(1)) {
    const std::size_t weekday = date::weekday(day).iso_encoding() - 1;
    for (const PacedSpan& span : spans) {
      if (!span.weekday[weekday]) continue;
      const auto end = span.to > span.from ? span.to : span.to + days(1);
      paced.push_back(
          {clock.instant(day + span.from, WallClock::Edge::start), clock.instant(day + end, WallClock::Edge::end)});
    }
  }
  return within(merged(std::move(paced)), window);
}

Intervals paced_in_fact(Intervals by_settings, const std::vector<PacedInstead>& instead,
                        const std::vector<PacedMore>& more, Zone zone, Interval window) {
  // "More" stands before "instead" of the same moment, so that the latter counts.
  std::vector<DailyHours> entries;
  for (const PacedMore& one : more) {
    if (one.hours_per_day) entries.push_back({one.from, one.to, *one.hours_per_day, true});
  }
  for (const PacedInstead& one : instead) entries.push_back({one.from, one.to, one.hours_per_day, false});
  std::stable_sort(entries.begin(), entries.end(),
                   [](const DailyHours& a, const DailyHours& b) { return a.from < b.from; });
  const Intervals by_clinician = by_settings;
  for (auto entry = entries.begin(); entry != entries.end(); ++entry) {
    const auto next = std::find_if(entry + 1, entries.end(), [](const DailyHours& later) { return !later.at_least; });
    if (!entry->at_least && !entry->to && next != entries.end()) entry->to = next->from;
    const Interval held{entry->from, std::min(entry->to.value_or(window.to), window.to)};
    Intervals paced = without(by_settings, held);
    append_entry(paced, entry->at_least ? by_settings : by_clinician, *entry, held, window, zone);
    by_settings = merged(std::move(paced));
  }
  return by_settings;
}

}  // namespace cellarer::duty
