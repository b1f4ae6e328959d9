// SPDX-License-Identifier: MIT
#include "tests/bench/world/duty_truth.hpp"

#include <algorithm>
#include <cmath>

#include "model/duty/paced_hours.hpp"
#include "model/life/changing_times.hpp"
#include "tests/bench/sides.hpp"
#include "tests/bench/world/draws.hpp"

namespace cellarer::bench {

namespace {

using namespace std::chrono_literals;

constexpr double days_a_year = 365;
constexpr auto noon_to_evening = std::chrono::hours(9);

double hours_planned(const duty::Settings& settings) {
  if (settings.paced.empty()) return 24;
  const auto& span = settings.paced.front();
  const auto length = span.to - span.from;
  return std::chrono::duration<double, std::ratio<3600>>(length > 0min ? length : length + 24h).count();
}

/// Amplitude up or down by 5 to 20 %, within 0.7 to 1.5 of the first day's.
std::vector<duty::Settings> settings_over_time(const World& world, Draws draws, std::size_t household, Side side,
                                               const std::vector<Instant>& evenings) {
  std::vector<duty::Settings> all{world.settings_of(household, side)};
  const double probability = world.spec().use.settings_changes_a_year / days_a_year;
  const double first = all.front().amplitude;
  if (probability == 0) return all;
  for (std::size_t i = 1; i < evenings.size(); ++i) {
    if (!draws.happens(probability)) continue;
    auto next = all.back();
    const double change = std::exp(draws.uniform(0.05, 0.20) * (draws.happens(0.5) ? 1 : -1));
    next.amplitude = std::round(10 * std::clamp(next.amplitude * change, 0.7 * first, 1.5 * first)) / 10;
    next.from = evenings[i] - noon_to_evening;
    if (next.amplitude != all.back().amplitude) all.push_back(next);
  }
  return all;
}

struct Spells {
  std::vector<duty::PacedInstead> all, told;
};

/// Two to nine days of 2 to 8 hours more a day, both sides, one after the other.
Spells longer_pacing(const World& world, Draws draws, std::size_t household, const std::vector<Instant>& evenings) {
  Spells spells;
  const double planned = hours_planned(world.settings_of(household, Side::left));
  const double probability = world.spec().use.longer_spells_a_year / days_a_year;
  if (planned >= 24 || probability == 0) return spells;
  for (std::size_t i = 1; i < evenings.size(); ++i) {
    if (!draws.happens(probability)) continue;
    const auto days = static_cast<std::size_t>(draws.uniform(2, 10));
    const bool told = draws.happens(world.spec().use.longer_recorded);
    const double hours = std::min(24.0, planned + draws.uniform(2, 8));
    for (const auto side : both_sides) {
      const auto from = evenings[i] - noon_to_evening;
      const duty::PacedInstead spell{side, from, from + std::chrono::hours(24 * days), hours};
      spells.all.push_back(spell);
      if (told) spells.told.push_back(spell);
    }
    i += days + 1;
  }
  return spells;
}

duty::Intervals paced_hours(const World& world, const std::vector<duty::Settings>& settings,
                            const std::vector<duty::PacedInstead>& longer, Side side, duty::Interval window) {
  duty::Intervals by_settings;
  for (std::size_t i = 0; i < settings.size(); ++i) {
    const duty::Interval reign{std::max(window.from, settings[i].from),
                               i + 1 < settings.size() ? settings[i + 1].from : window.to};
    if (reign.empty()) continue;
    for (const auto& one : duty::paced_by_settings(settings[i].paced, world.zone(), reign)) by_settings.push_back(one);
  }
  std::vector<duty::PacedInstead> own;
  std::copy_if(longer.begin(), longer.end(), std::back_inserter(own),
               [&](const auto& one) { return one.side == side; });
  return duty::paced_in_fact(duty::merged(std::move(by_settings)), own, {}, world.zone(), window);
}

/// Walks through time with everything that changes; asked in order of time.
template <class Item>
class Current {
 public:
  explicit Current(const std::vector<Item>& items) : items_(items) {}
  std::size_t at(Instant when) {
    while (index_ + 1 < items_.size() && items_[index_ + 1].from <= when) ++index_;
    return index_;
  }

 private:
  const std::vector<Item>& items_;
  std::size_t index_ = 0;
};

std::vector<DutyStretch> cut(const DutyTruth& duty, std::size_t side, const duty::Intervals& paced) {
  const auto& evenings = duty.changing_times;
  std::vector<Instant> ends = evenings;
  for (const auto& one : paced) ends.insert(ends.end(), {one.from, one.to});
  for (const auto& one : duty.settings[side]) ends.push_back(one.from);
  for (const auto& one : duty.units) ends.push_back(one.from);
  std::sort(ends.begin(), ends.end());
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  Current settings(duty.settings[side]);
  Current units(duty.units);
  Current pacing(paced);
  std::size_t evening = 0;
  std::vector<DutyStretch> stretches;
  stretches.reserve(ends.size());
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const Instant from = ends[i], to = ends[i + 1];
    if (from < evenings.front() || to > evenings.back()) continue;
    while (evenings[evening] < to) ++evening;
    const auto span = pacing.at(from);
    const bool on = !paced.empty() && paced[span].from <= from && from < paced[span].to;
    const auto day = static_cast<std::size_t>((from - evenings.front() + 2h) / 24h);
    const auto unit = units.at(from) % 2;
    stretches.push_back({from, to, on, unit, settings.at(from), day, evenings[evening] == to ? evening : no_evening});
  }
  return stretches;
}

}  // namespace

DutyTruth duty_truth(const World& world, std::uint64_t seed, std::size_t household) {
  const auto& spec = world.spec();
  DutyTruth duty;
  const auto first = world.first_evening();
  const auto beyond = static_cast<int>(3 * spec.set_life_days) + 30;
  duty.changing_times =
      life::changing_times(world.zone(), spec.changing_times, first, first + std::chrono::days(spec.nights + beyond));
  duty.units = world.first_day(household).units;
  Draws swaps(Stream::duty, {seed, household, 2});
  for (std::size_t i = 1; i < duty.changing_times.size(); ++i) {
    if (spec.use.unit_swaps_a_year == 0 || !swaps.happens(spec.use.unit_swaps_a_year / days_a_year)) continue;
    auto next = duty.units.front();
    next.serial = duty.units.size() % 2 == 0 ? "unit-1" : "unit-2";
    next.from = duty.changing_times[i] - noon_to_evening;
    duty.units.push_back(next);
  }
  const auto longer = longer_pacing(world, Draws(Stream::duty, {seed, household, 3}), household, duty.changing_times);
  duty.told_longer = longer.told;
  for (const auto side : both_sides) {
    const std::size_t index = index_of(side);
    duty.settings[index] =
        settings_over_time(world, Draws(Stream::duty, {seed, household, index}), household, side, duty.changing_times);
    const duty::Interval window{first - std::chrono::days(1), duty.changing_times.back() + std::chrono::days(1)};
    duty.stretches[index] = cut(duty, index, paced_hours(world, duty.settings[index], longer.all, side, window));
  }
  return duty;
}

}  // namespace cellarer::bench
