// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>

#include "model/review/household_review.hpp"
#include "tests/bench/world/draws.hpp"

/// Invented homes whose faults are known, for the review. Records as the review reads them are drawn directly.
namespace cellarer::bench {

/// What sets differ by where nothing is wrong. Standard deviations of log use; every home draws its own.
///
///     log ratio = household + side + channel + type + lot + set + error of the observation + loading * gauge's bias
struct FaultWorld {
  double set_sd = 0.04;          ///< of a set from the next, its lot's share included
  double lot_sd = 0.015;         ///< of which a lot's
  double observation_sd = 0.03;  ///< of a reading at removal
  double household_sd = 0.05, side_sd = 0.03, channel_sd = 0.06, type_sd = 0.01;
  double gauge_bias_points = 3;
  double set_days = 12;
  int earlier = 10, later = 12;    ///< sets of each side before and from the fault's start on
  int sets_a_lot = 6;              ///< of a side, before the next lot is opened for both
  bool meter_every_other = false;  ///< every other set is read by a voltmeter when it comes out
  bool other_unit_after = false;   ///< the spare is put into service half way through the later sets
  /// Sets then differ by no lot, and the whole of `set_sd` is their own: noise is what is said, whatever makes it.
  bool same_lot_throughout = false;
  std::string shared_lot;   ///< the later sets' lot, the same in all homes; empty: lots of the home's own
  std::string shared_unit;  ///< the later sets' unit, the same in all homes; empty: the home's own
};

/// A fault from the first of the later sets on (cells: of the lot opened then).
struct Fault {
  bool present = true;
  review::Cause cause = review::Cause::settings;
  Side side = Side::left;
  double log_use = 0.0953102;  ///< ln 1.10
  bool drifts = false;         ///< reaches that size after 90 days
};

/// The home numbered `number` of this seed.
review::HouseholdHistory simulate_history(const FaultWorld& world, const Fault& fault, std::uint64_t seed,
                                          std::uint64_t number);

/// What the cells of a lot differ by naturally; the same in every home.
double lot_effect(const FaultWorld& world, std::uint64_t seed, const std::string& lot);

/// When the fault begins: the first faulty set goes in.
Instant fault_begins(const FaultWorld& world, Side side);
Instant history_begins();

}  // namespace cellarer::bench
