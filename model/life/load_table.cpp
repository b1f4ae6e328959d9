// SPDX-License-Identifier: MIT
#include "model/life/load_table.hpp"

#include <algorithm>
#include <string_view>
#include <type_traits>

#include "model/duty/set_voltage.hpp"
#include "model/life/stretched_depth.hpp"

namespace cellarer::life {

namespace {

constexpr double step = 1.0 / (LoadTable::points - 1);
/// Of 20 KB each. Settings are round numbers: homes have far fewer loads than there are homes.
constexpr std::size_t most_tables = 1000;

/// Where on equal steps a value lies, held inside.
struct Position {
  std::size_t index;
  double share;
};

Position position(double steps_from_start, std::size_t count) {
  const double held = std::clamp(steps_from_start, 0.0, static_cast<double>(count - 1));
  const auto index = std::min(static_cast<std::size_t>(held), count - 2);
  return {index, held - static_cast<double>(index)};
}

bool same(const duty::BreathLoad& a, const duty::BreathLoad& b) {
  return a.burst_mA == b.burst_mA && a.rest_mA == b.rest_mA && a.fraction == b.fraction;
}

/// Bit for bit; numbers are all that a curve is.
bool same(const cell::Curve& a, const cell::Curve& b) {
  static_assert(std::is_trivially_copyable_v<cell::Curve> && sizeof(cell::Curve) % sizeof(double) == 0);
  const auto bits = [](const cell::Curve& curve) {
    return std::string_view(reinterpret_cast<const char*>(&curve), sizeof(curve));
  };
  return &a == &b || bits(a) == bits(b);
}

double between(double low, double high, double share) { return low + share * (high - low); }

}  // namespace

LoadTable::LoadTable(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing) {
  for (std::size_t level = 0; level < levels; ++level) {
    const double use = lowest_use + level_step * static_cast<double>(level);
    // Past the place where the converter can no longer be fed there is no voltage; well below cut-off says the same,
    // and lies near enough for straight lines.
    const double lowest_V = 0.6 * unit.cutoff_V;
    for (std::size_t i = 0; i < points; ++i) {
      const double volts = duty::pacing_V(unit, curve, pacing, use, static_cast<double>(i) * step);
      pacing_V_[level][i] = std::max(volts, lowest_V);
    }
  }
  for (std::size_t stop = 0; stop < stops; ++stop) {
    cutoff_depth_[stop] = duty::cutoff_depth(unit, curve, pacing, lowest_use + stop_step * static_cast<double>(stop));
  }
  const double ends = cutoff_depth(1);
  for (std::size_t i = 1; i < points; ++i) {
    const double from = static_cast<double>(i - 1) * step, to = static_cast<double>(i) * step;
    // Relative use moves the voltage by millivolts: the factor at the profile's own current is near enough.
    const double factor = duty::mean_converter_factor(unit, curve, pacing, 1.0, 0.5 * (from + to));
    way_[i] = way_[i - 1] + (to - from) / factor;
    stretch_[i] = stretch_[i - 1] + (life::stretch(to, ends) - life::stretch(from, ends)) / factor;
  }
  lay_out_ways();
}

/// The ways by equal bins, for their inverse, and where the stretch begins.
void LoadTable::lay_out_ways() {
  constexpr std::size_t last = points - 1;
  static_assert(last <= 256, "a step is kept as one octet");
  bins_per_way_ = bins / way_[last];
  // In each bin how many steps end before it begins, then summed up.
  for (std::size_t i = 0; i + 1 < last; ++i) {
    const auto after = static_cast<std::size_t>(way_[i + 1] * bins_per_way_) + 1;
    if (after < bins) ++first_[after];
  }
  unsigned passed = 0;
  for (auto& steps : first_) steps = static_cast<std::uint8_t>(passed += steps);
  std::size_t bent = 0;
  while (bent + 2 < points && stretch_[bent + 1] <= 0) ++bent;
  bend_ = {way_[bent], way_[bent + 1], stretch_[bent + 1] / (way_[bent + 1] - way_[bent]), 0};
  bend_.beyond = bent + 1 < last ? (stretch_[last] - stretch_[bent + 1]) / (way_[last] - way_[bent + 1]) : bend_.in;
}

LoadTable::Level LoadTable::level(double use) const {
  const auto [index, share] = position((use - lowest_use) / level_step, levels);
  return {index, share};
}

double LoadTable::cutoff_depth(double use) const {
  const auto stop = position((use - lowest_use) / stop_step, stops);
  return between(cutoff_depth_[stop.index], cutoff_depth_[stop.index + 1], stop.share);
}

LoadTables::Electronics LoadTables::of(const duty::Stimulator& unit) {
  return {unit.cells_in_series, unit.converter, unit.cutoff_V, unit.reference_V, unit.burst_seen};
}

std::shared_ptr<const LoadTable> LoadTables::find(const duty::Stimulator& unit, const cell::Curve& curve,
                                                  const duty::BreathLoad& pacing) const {
  const auto electronics = of(unit);
  const auto known = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& entry) {
    return same(entry.pacing, pacing) && entry.unit == electronics && same(*entry.curve, curve);
  });
  return known == entries_.end() ? nullptr : known->table;
}

void LoadTables::keep(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing,
                      std::shared_ptr<const LoadTable> table) {
  const auto with_curve =
      std::find_if(entries_.begin(), entries_.end(), [&](const Entry& entry) { return same(*entry.curve, curve); });
  auto kept_curve = with_curve != entries_.end() ? with_curve->curve : std::make_shared<const cell::Curve>(curve);
  Entry entry{of(unit), pacing, std::move(kept_curve), std::move(table)};
  if (entries_.size() < most_tables) {
    entries_.push_back(std::move(entry));
    return;
  }
  entries_[oldest_] = std::move(entry);
  oldest_ = (oldest_ + 1) % most_tables;
}

std::shared_ptr<const LoadTable> LoadTables::get(const duty::Stimulator& unit, const cell::Curve& curve,
                                                 const duty::BreathLoad& pacing) {
  if (auto known = find(unit, curve, pacing)) return known;
  auto made = std::make_shared<const LoadTable>(unit, curve, pacing);
  keep(unit, curve, pacing, made);
  return made;
}

}  // namespace cellarer::life
