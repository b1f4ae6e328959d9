// SPDX-License-Identifier: MIT
#include "tests/bench/world/world.hpp"

#include <cmath>
#include <future>
#include <numbers>
#include <stdexcept>

#include "model/cell/fit.hpp"
#include "model/cell/runtime.hpp"
#include "server/commands/cell_files.hpp"
#include "tests/bench/world/draws.hpp"
#include "tests/bench/world/unit.hpp"

namespace cellarer::bench {

namespace {

/// FNV-1a of the brand's name.
std::uint64_t number_of(const std::string& text) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char letter : text) hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001b3U;
  return hash;
}

/// Peukert's exponent of one specimen below 100 mA, where none was measured. Those of a brand's specimens are draws
/// that go together (Gaussian copula), each even between the bounds.
double exponent_of(const WorldSpec& spec, const std::string& brand, std::uint64_t specimen) {
  constexpr std::uint64_t the_brand = 0;
  const auto drawn = [&](std::uint64_t whose) {
    return Draws(Stream::brand, {spec.seed, number_of(brand), whose}).normal();
  };
  const double alike = spec.cells.exponent_alike;
  const double z = std::sqrt(alike) * drawn(the_brand) + std::sqrt(1 - alike) * drawn(specimen);
  const double below = 0.5 * std::erfc(-z / std::numbers::sqrt2);
  return spec.cells.exponent_low + (spec.cells.exponent_high - spec.cells.exponent_low) * below;
}

/// What a data sheet of this specimen would print for low drains: hours at 25, 50 and 100 mA down the levels, measured
/// at 100 mA, below that by its own exponent. The contacts are inside, and stay there: the unit has contacts too. The
/// rows at 500 mA are left out: no side draws that, and one straight resistance for 25 to 500 mA would pull the curve
/// away from where it is used.
cell::PublishedCell data_sheet(const cell::PublishedCell& cell, const DischargeTable& table) {
  constexpr double highest_V = 1.45;
  cell::PublishedCell sheet = cell;
  sheet.source.fixture_ohm = 0;
  sheet.discharges.clear();
  for (const double current_mA : {25.0, 50.0, 100.0}) {
    for (const auto& level : table.levels()) {
      if (level.volts > highest_V + 1e-6) continue;
      cell::Discharge row;
      row.load = {cell::LoadKind::current, current_mA};
      row.cutoff_V = level.volts;
      row.hours = table.charge_mAh(level.volts, current_mA) / current_mA;
      sheet.discharges.push_back(row);
    }
  }
  return sheet;
}

cell::Profile profile_of(const cell::PublishedCell& cell, const Brand& brand, const CellsSpec& spec) {
  const auto told = data_sheet(cell, brand.fitted_on);
  auto profile = cell::make_profile(told, cell::fit(told));
  // The spread of sets is known, as a service that has seen many knows it; a set of two cells has the cell's by root 2.
  profile.spread.specimen_log_sd = spec.set_log_sd * std::sqrt(2.0);
  profile.spread.lot_log_sd = spec.lot_log_sd;
  profile.spread.dud_fraction = spec.dud_fraction;
  profile.spread.dud_shortfall = spec.dud_shortfall;
  return profile;
}

}  // namespace

World::World(WorldSpec spec, const std::filesystem::path& cells_folder)
    : spec_(std::move(spec)), zone_(date::locate_zone(spec_.zone)) {
  if (spec_.cells.brands.empty() || spec_.changing_times.empty()) throw std::runtime_error("a world without cells");
  const date::local_seconds evening = date::local_days(date::year(2025) / 1 / 6) + spec_.changing_times.front();
  first_evening_ = Instant(zone_->to_sys(evening).time_since_epoch());
  const auto made = [&](const std::string& id) {
    const auto published = commands::read_cell_path((cells_folder / (id + ".json")).string());
    const DischargeTable a(published, "a", exponent_of(spec_, id, 1)), b(published, "b", exponent_of(spec_, id, 2));
    Brand brand{id, DischargeTable(a, b, spec_.cells.specimen_spread), a, {}};
    brand.profile = profile_of(published, brand, spec_.cells);
    return brand;
  };
  std::vector<std::future<Brand>> brands;
  for (const auto& id : spec_.cells.brands) brands.push_back(std::async(std::launch::async, made, id));
  for (auto& brand : brands) brands_.push_back(brand.get());
  const double burst_share = 0.5 * (spec_.unit.burst_share_low + spec_.unit.burst_share_high);
  for (const auto& brand : brands_) {
    auto unit = bare_unit(spec_);
    const auto& scaled_for = spec_.unit.own_scale ? brand : brands_.front();
    unit.gauge.volts_at_percent =
        scale_for(unit, settings_for(spec_, unit, scaled_for.truth, burst_share)[0], scaled_for.truth, burst_share);
    auto settings = settings_for(spec_, unit, brand.truth, burst_share);
    for (auto& side : settings) side.from = first_evening_ - std::chrono::days(1);
    settings_.push_back(settings);
    units_.push_back(std::move(unit));
  }
}

life::Household World::first_day(std::size_t household) const {
  life::Household first;
  first.zone = zone_;
  first.changing_times = spec_.changing_times;
  first.units = {{"unit-1", unit_of(household), first_evening_ - std::chrono::days(1)}};
  for (const auto side : both_sides) first.settings.push_back(settings_of(household, side));
  for (const auto& brand : brands_) {
    const bool may_come = spec_.cells.other_brand > 0 || &brand == &brand_of(household);
    if (may_come) first.cell_profiles[brand.id] = brand.profile;
  }
  first.policy = spec_.policy;
  // Like the spread of sets, the spread of homes and sides is known to a service that has seen many.
  const auto& use = spec_.use;
  first.agency.household_log_sd = use.household_log_sd;
  first.agency.side_log_sd = use.side_log_sd;
  first.agency.set_log_sd = use.set_log_sd;
  first.agency.drift_log_sd_per_month = use.drift_log_sd_a_month;
  for (const auto& unit : first.units) {
    first.agency.models[unit.stimulator.id].channel_log_sd = use.channel_log_sd;
    first.agency.models[unit.stimulator.id].exponent_sd = use.exponent_sd;
  }
  return first;
}

}  // namespace cellarer::bench
