// SPDX-License-Identifier: MIT
#include "model/duty/growth.hpp"

#include <algorithm>

#include "model/duty/paced_hours.hpp"
#include "model/duty/wall_clock.hpp"

namespace cellarer::duty {

using std::chrono::minutes;

namespace {

constexpr minutes whole_day{24 * 60};

/// A span in minutes of its weekday; its end may lie on the next day.
struct DaySpan {
  minutes from, to;
};

/// The spans that begin on a weekday, in order and apart.
std::vector<DaySpan> spans_of(const std::vector<PacedSpan>& spans, std::size_t weekday) {
  std::vector<DaySpan> found;
  for (const PacedSpan& span : spans) {
    if (span.weekday[weekday]) found.push_back({span.from, span.to > span.from ? span.to : span.to + whole_day});
  }
  std::sort(found.begin(), found.end(), [](const DaySpan& a, const DaySpan& b) { return a.from < b.from; });
  std::vector<DaySpan> apart;
  for (const DaySpan& span : found) {
    if (!apart.empty() && span.from <= apart.back().to)
      apart.back().to = std::max(apart.back().to, span.to);
    else
      apart.push_back(span);
  }
  return apart;
}

minutes total(const std::vector<DaySpan>& spans) {
  minutes sum{0};
  for (const DaySpan& span : spans) sum += span.to - span.from;
  return sum;
}

/// Lengthens the spans by `more` altogether, as far as there is room before the next one.
void lengthen(std::vector<DaySpan>& spans, minutes next_day_begins, minutes more) {
  const auto room = [&](std::size_t i) {
    const minutes next = i + 1 < spans.size() ? spans[i + 1].from : next_day_begins;
    return std::max(next - spans[i].to, minutes(0));
  };
  while (more > minutes(0)) {
    std::vector<std::size_t> open;
    for (std::size_t i = 0; i < spans.size(); ++i) {
      if (room(i) > minutes(0)) open.push_back(i);
    }
    if (open.empty()) return;
    // At least a minute for the first ones: so it ends.
    const minutes part = std::max(more / static_cast<int>(open.size()), minutes(1));
    for (const std::size_t i : open) {
      const minutes taken = std::min({part, room(i), more});
      spans[i].to += taken;
      more -= taken;
    }
  }
}

}  // namespace

minutes paced_of_day(const std::vector<PacedSpan>& spans, std::size_t weekday) {
  return total(spans_of(spans, weekday));
}

std::vector<PacedSpan> grown_spans(const std::vector<PacedSpan>& spans, const Growth& growth, int weeks) {
  std::vector<PacedSpan> grown;
  for (std::size_t weekday = 0; weekday < 7; ++weekday) {
    auto of_day = spans_of(spans, weekday);
    if (of_day.empty()) continue;
    const minutes usual = total(of_day);
    const minutes wanted = std::min(usual + weeks * growth.a_week, growth.up_to_per_day);
    const auto next_day = spans_of(spans, (weekday + 1) % 7);
    lengthen(of_day, next_day.empty() ? 2 * whole_day : next_day.front().from + whole_day, wanted - usual);
    for (const DaySpan& span : of_day) {
      PacedSpan one;
      one.weekday[weekday] = true;
      one.from = span.from;
      one.to = span.to > whole_day ? span.to - whole_day : span.to;
      grown.push_back(one);
    }
  }
  return grown;
}

Intervals paced_by_growing(const Settings& settings, Zone zone, Interval window) {
  if (!settings.growth || settings.paced.empty() || window.empty())
    return paced_by_settings(settings.paced, zone, window);
  constexpr std::chrono::days week{7};
  WallClock clock(zone);
  const auto began = clock.wall(settings.growth->since);
  const auto begin_of = [&](int weeks) { return clock.instant(began + weeks * week, WallClock::Edge::start); };
  int weeks = std::max(static_cast<int>((clock.wall(window.from) - began) / week), 0);
  if (weeks > 0 && begin_of(weeks) > window.from) --weeks;
  // A day's hours grow in fewer weeks than it has minutes.
  constexpr int grown_up = 24 * 60;
  Intervals paced;
  for (Instant from = window.from; from < window.to; ++weeks) {
    const bool last = weeks >= grown_up;
    const Instant to = last ? window.to : std::min(begin_of(weeks + 1), window.to);
    const auto spans = grown_spans(settings.paced, *settings.growth, std::min(weeks, grown_up));
    for (const Interval& one : paced_by_settings(spans, zone, {from, to})) paced.push_back(one);
    from = std::max(to, from);
  }
  return merged(std::move(paced));
}

}  // namespace cellarer::duty
