// SPDX-License-Identifier: MIT
#include "model/duty/timeline.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "model/duty/growth.hpp"
#include "model/duty/paced_hours.hpp"

namespace cellarer::duty {

namespace {

/// Settings in force over a window.
struct Reign {
  Interval window;
  std::size_t settings = 0;
};

/// Which settings hold when, in order; nothing before the first. Of two from one moment the later given holds.
std::vector<Reign> reigns(const std::vector<Settings>& settings, Interval asked) {
  std::vector<std::size_t> order(settings.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return settings[a].from < settings[b].from; });
  std::vector<Reign> found;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Instant end = i + 1 < order.size() ? settings[order[i + 1]].from : asked.to;
    const Interval window{std::max(settings[order[i]].from, asked.from), std::min(end, asked.to)};
    if (!window.empty()) found.push_back({window, order[i]});
  }
  return found;
}

/// Part of a window with one wall clock.
struct ClockWindow {
  Interval window;
  Zone zone = nullptr;
};

/// The window by wall clocks: at home, and away from it.
std::vector<ClockWindow> by_wall_clock(Zone home, const std::vector<Away>& away, Interval asked) {
  std::vector<Instant> edges{asked.from, asked.to};
  for (const Away& one : away) {
    for (const Instant edge : {one.from, one.to}) {
      if (edge > asked.from && edge < asked.to) edges.push_back(edge);
    }
  }
  std::sort(edges.begin(), edges.end());
  std::vector<ClockWindow> windows;
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    Zone zone = home;
    for (const Away& one : away) {
      if (one.from <= edges[i] && edges[i] < one.to) zone = one.zone;
    }
    if (edges[i] < edges[i + 1]) windows.push_back({{edges[i], edges[i + 1]}, zone});
  }
  return windows;
}

/// When the settings, each in its time, pace by the wall clock of the place.
Intervals paced_by_all_settings(const TimelineInput& input, Interval asked) {
  Intervals paced;
  for (const Reign& reign : reigns(input.settings, asked)) {
    for (const auto& [window, zone] : by_wall_clock(input.zone, input.away, reign.window)) {
      for (const Interval& one : paced_by_growing(input.settings[reign.settings], zone, window)) paced.push_back(one);
    }
  }
  return merged(std::move(paced));
}

Intervals times_off(const std::vector<SwitchedOff>& entries, Interval asked) {
  Intervals off;
  for (const SwitchedOff& entry : entries) off.push_back({entry.from, entry.to.value_or(asked.to)});
  return within(merged(std::move(off)), asked);
}

/// The two kinds of stretch that alternate over a window: inside the intervals and outside them.
template <class Inside, class Outside>
void alternate(const Intervals& intervals, Interval window, Inside inside, Outside outside) {
  Instant reached = window.from;
  for (const Interval& one : within(intervals, window)) {
    if (reached < one.from) outside(Interval{reached, one.from});
    inside(one);
    reached = one.to;
  }
  if (reached < window.to) outside(Interval{reached, window.to});
}

}  // namespace

std::vector<Stretch> timeline(const TimelineInput& input, Instant from, Instant to) {
  std::vector<Stretch> stretches;
  const Interval asked{from, to};
  if (asked.empty()) return stretches;
  const SideElectronics& electronics = input.stimulator.side(input.side);
  const std::vector<Reign> in_force = reigns(input.settings, asked);

  // Where a day is paced for so many hours, far enough about the window that it is seen as a whole.
  constexpr std::chrono::days margin{3};
  const bool by_hours = !input.paced_instead.empty() || !input.paced_more.empty();
  const Interval wide = by_hours ? Interval{from - margin, to + margin} : asked;
  const Intervals paced =
      paced_in_fact(paced_by_all_settings(input, wide), input.paced_instead, input.paced_more, input.zone, wide);
  const Intervals off = times_off(input.switched_off, asked);

  stretches.reserve(2 * (paced.size() + off.size() + in_force.size()) + 1);
  const Instant known_from = in_force.empty() ? to : in_force.front().window.from;
  if (from < known_from) stretches.push_back({from, known_from, Activity::off, steady_load(0), 0});
  for (const Reign& reign : in_force) {
    const BreathLoad pacing = pacing_load(electronics, input.settings[reign.settings]);
    const auto add = [&](Interval time, Activity activity, const BreathLoad& load) {
      stretches.push_back({time.from, time.to, activity, load, reign.settings});
    };
    alternate(
        off, reign.window, [&](Interval time) { add(time, Activity::off, steady_load(electronics.off_mA)); },
        [&](Interval on) {
          alternate(
              paced, on, [&](Interval time) { add(time, Activity::pacing, pacing); },
              [&](Interval time) { add(time, Activity::standby, steady_load(electronics.standby_mA)); });
        });
  }
  return stretches;
}

ChargeClock::ChargeClock(std::vector<Stretch> stretches) : stretches_(std::move(stretches)) {
  assert(!stretches_.empty());
  charge_before_mAh_.reserve(stretches_.size() + 1);
  charge_before_mAh_.push_back(0);
  for (const Stretch& one : stretches_) {
    charge_before_mAh_.push_back(charge_before_mAh_.back() + one.load.mean_mA() * hours_between(one.from, one.to));
  }
}

double ChargeClock::charge_mAh(Instant at) const {
  if (at <= stretches_.front().from) return 0;
  if (at >= stretches_.back().to) return charge_before_mAh_.back();
  const Stretch& one = stretch(at);
  const auto index = static_cast<std::size_t>(&one - stretches_.data());
  return charge_before_mAh_[index] + one.load.mean_mA() * hours_between(one.from, at);
}

bool ChargeClock::reaches(double charge_mAh) const { return charge_mAh <= charge_before_mAh_.back(); }

Instant ChargeClock::when(double charge_mAh) const {
  if (charge_mAh <= 0) return stretches_.front().from;
  if (!reaches(charge_mAh)) return stretches_.back().to;
  // The first stretch by whose end that much is drawn: its current is not nought.
  const auto end = std::lower_bound(charge_before_mAh_.begin() + 1, charge_before_mAh_.end(), charge_mAh);
  const auto index = static_cast<std::size_t>(end - charge_before_mAh_.begin()) - 1;
  const Stretch& one = stretches_[index];
  // A millisecond against rounding: when(charge_mAh(at)) must not be the second before `at`.
  constexpr double rounding_h = 1e-3 / 3600;
  const double needed_h = (charge_mAh - charge_before_mAh_[index]) / one.load.mean_mA() + rounding_h;
  return std::min(hours_after(one.from, needed_h), one.to);
}

const Stretch& ChargeClock::stretch(Instant at) const {
  const auto after =
      std::partition_point(stretches_.begin(), stretches_.end(), [at](const Stretch& one) { return one.to <= at; });
  return after == stretches_.end() ? stretches_.back() : *after;
}

}  // namespace cellarer::duty
