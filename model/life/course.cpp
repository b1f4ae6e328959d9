// SPDX-License-Identifier: MIT
#include "model/life/course.hpp"

#include <algorithm>
#include <cassert>

#include "model/duty/paced_more.hpp"

namespace cellarer::life {

namespace {

template <class Entry>
std::vector<Entry> of_side(const std::vector<Entry>& entries, Side side) {
  std::vector<Entry> chosen;
  for (const auto& entry : entries) {
    if (entry.side == side) chosen.push_back(entry);
  }
  std::stable_sort(chosen.begin(), chosen.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
  return chosen;
}

/// Units by the moment from which each is in use, as indices into the household's list.
std::vector<std::size_t> units_by_time(const Household& household) {
  std::vector<std::size_t> order(household.units.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return household.units[a].from < household.units[b].from; });
  return order;
}

}  // namespace

std::vector<duty::Settings> settings_of(const Household& household, Side side) {
  return of_side(household.settings, side);
}

std::optional<std::size_t> unit_in_use(const Household& household, Instant at) {
  std::optional<std::size_t> found;
  for (const auto index : units_by_time(household)) {
    if (household.units[index].from <= at) found = index;
  }
  return found;
}

Course::Course(const Household& household, Side side, Instant from, Instant to)
    : side_(side), from_(from), to_(to), clock_(stretches_of(household)) {}

std::vector<duty::Stretch> Course::stretches_of(const Household& household) {
  duty::TimelineInput input;
  input.side = side_;
  input.zone = household.zone;
  input.settings = settings_of(household, side_);
  if (!input.settings.empty()) input.settings.front().from = std::min(input.settings.front().from, from_);
  input.paced_more = of_side(household.paced_more, side_);
  input.settings = duty::with_raised_amplitude(input.settings, input.paced_more);
  input.paced_instead = of_side(household.paced_instead, side_);
  input.switched_off = of_side(household.switched_off, side_);
  for (const Stay& stay : household.stays) {
    if (stay.zone != nullptr) input.away.push_back({stay.from, stay.to, stay.zone});
  }
  std::stable_sort(input.away.begin(), input.away.end(), [](const auto& a, const auto& b) { return a.from < b.from; });

  const auto order = units_by_time(household);
  std::vector<duty::Stretch> all;
  double charge = 0;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const auto& unit = household.units[order[k]];
    const auto start = k == 0 ? from_ : std::max(from_, unit.from);
    const auto end = k + 1 < order.size() ? std::min(to_, household.units[order[k + 1]].from) : to_;
    if (start >= end) continue;
    input.stimulator = unit.stimulator;
    const duty::SideElectronics& electronics = unit.stimulator.side(side_);
    std::optional<std::size_t> settings;
    const auto stretches = duty::timeline(input, start, end);
    all.reserve(all.size() + stretches.size());
    for (const auto& stretch : stretches) {
      if (settings != stretch.settings) {
        settings = stretch.settings;
        const auto load =
            input.settings.empty() ? duty::BreathLoad{} : duty::pacing_load(electronics, input.settings[*settings]);
        phases_.push_back({charge, &unit.stimulator, order[k], load});
      }
      charge += stretch.load.mean_mA() * hours_between(stretch.from, stretch.to);
      all.push_back(stretch);
    }
  }
  return all;
}

Course Course::cut_from(Instant later) const {
  Course rest(*this);
  rest.from_ = later;
  const double before_mAh = charge_mAh(later);
  const auto first_phase = static_cast<std::ptrdiff_t>(phase_at(before_mAh));
  rest.phases_.assign(phases_.begin() + first_phase, phases_.end());
  for (auto& phase : rest.phases_) phase.charge_from_mAh = std::max(phase.charge_from_mAh - before_mAh, 0.0);
  std::vector<duty::Stretch> stretches;
  for (auto stretch : clock_.stretches()) {
    if (stretch.to <= later) continue;
    stretch.from = std::max(stretch.from, later);
    stretches.push_back(stretch);
  }
  rest.clock_ = duty::ChargeClock(std::move(stretches));
  return rest;
}

std::size_t Course::phase_at(double charge_mAh) const {
  std::size_t phase = 0;
  while (phase + 1 < phases_.size() && phases_[phase + 1].charge_from_mAh <= charge_mAh) ++phase;
  return phase;
}

double Course::charge_per_day_mAh(Instant at) const {
  const auto end = std::min(to_, at + std::chrono::hours(7 * 24));
  const auto start = std::min(at, end - std::chrono::hours(24));
  return (charge_mAh(end) - charge_mAh(start)) / hours_between(start, end) * 24;
}

}  // namespace cellarer::life
