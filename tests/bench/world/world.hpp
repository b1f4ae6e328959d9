// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "model/cell/profile.hpp"
#include "tests/bench/sides.hpp"
#include "tests/bench/world/discharge_table.hpp"
#include "tests/bench/world/electronics.hpp"
#include "tests/bench/world/spec.hpp"

/// A world made ready: its tables of cells, its unit, its duty, and what the forecaster is told of them.
namespace cellarer::bench {

/// One brand: its truth, and its profile as the forecaster has it.
struct Brand {
  std::string id;
  DischargeTable truth;      ///< drives the world
  DischargeTable fitted_on;  ///< specimen a, what the profile is fitted on
  cell::Profile profile;
};

/// Immutable once made; threads may share it. Making it reads and fits the cells: some tenths of a second.
class World {
 public:
  /// `cells_folder`: data/cells. Throws where a brand is missing or has not two specimens at 100 and 500 mA.
  World(WorldSpec spec, const std::filesystem::path& cells_folder);

  const WorldSpec& spec() const { return spec_; }
  const std::vector<Brand>& brands() const { return brands_; }
  const Brand& brand_of(std::size_t household) const { return brands_[household % brands_.size()]; }

  /// The unit's profile, as the forecaster of this household has it; truth departs from it by factors alone.
  const duty::Stimulator& unit_of(std::size_t household) const { return units_[household % units_.size()]; }
  /// Settings of this household's sides on the first day: hours and amplitude that give sets of `set_life_days`.
  const duty::Settings& settings_of(std::size_t household, Side side) const {
    return settings_[household % settings_.size()][index_of(side)];
  }
  Zone zone() const { return zone_; }

  /// The household's first day, as every forecaster is made from: no changes, no readings.
  life::Household first_day(std::size_t household) const;
  /// The first evening of every household.
  Instant first_evening() const { return first_evening_; }

 private:
  WorldSpec spec_;
  Zone zone_ = nullptr;
  Instant first_evening_;
  std::vector<Brand> brands_;
  std::vector<duty::Stimulator> units_;                  ///< one a brand
  std::vector<std::array<duty::Settings, 2>> settings_;  ///< the same
};

}  // namespace cellarer::bench
