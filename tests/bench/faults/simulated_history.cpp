// SPDX-License-Identifier: MIT
#include "tests/bench/faults/simulated_history.hpp"

#include <cmath>
#include <functional>

namespace cellarer::bench {

namespace {

/// The left side's sets come out at half the right one's time, as in homes.
Instant set_goes_in(const FaultWorld& world, Side side, int number) {
  const double offset = side == Side::left ? 0 : world.set_days / 2;
  return hours_after(history_begins(), 24 * (offset + number * world.set_days));
}

struct Channel {
  double use, bias;
};

/// The lots of one home, by the number of the set in its side.
class Lots {
 public:
  Lots(const FaultWorld& world, std::uint64_t seed, std::uint64_t home) : world_(world), seed_(seed), home_(home) {}

  bool is_faulty(int set) const { return set >= world_.earlier && number_of(set) == number_of(world_.earlier); }
  std::string name(int set) const {
    if (!world_.shared_lot.empty() && set >= world_.earlier) return world_.shared_lot;
    return "h-" + std::to_string(home_) + "-lot-" + std::to_string(number_of(set));
  }
  double effect(int set) const { return lot_effect(world_, seed_, name(set)); }

 private:
  const FaultWorld& world_;
  std::uint64_t seed_, home_;

  /// A lot is opened with the fault, so that one of bad cells begins then.
  int number_of(int set) const {
    if (world_.same_lot_throughout) return 0;
    return set >= world_.earlier ? 100 + (set - world_.earlier) / world_.sets_a_lot : set / world_.sets_a_lot;
  }
};

/// How much more the fault makes this set seem used.
double excess(const FaultWorld& world, const Fault& fault, Side side, int set, bool faulty_lot, bool other_unit,
              bool by_meter) {
  if (!fault.present || set < world.earlier) return 0;
  const double grown = fault.drifts ? (set - world.earlier + 1) * world.set_days / 90 : 1.0;
  const bool this_side = side == fault.side;
  const bool hit = fault.cause == review::Cause::settings ? this_side
                   : fault.cause == review::Cause::habit  ? true
                   : fault.cause == review::Cause::cells  ? faulty_lot
                   : fault.cause == review::Cause::unit   ? (this_side || !world.shared_unit.empty()) && !other_unit
                                                          : this_side && !other_unit && !by_meter;
  return hit ? fault.log_use * grown : 0;
}

/// What the electronics of a unit's side differ by; the same wherever that unit is.
Channel channel_of(const FaultWorld& world, std::uint64_t seed, const std::string& unit, Side side) {
  Draws draws(Stream::lot, {seed, std::hash<std::string>{}(unit + name_of(side))});
  const double use = world.channel_sd * draws.normal();
  return {use, world.gauge_bias_points * draws.normal()};
}

}  // namespace

Instant history_begins() { return Instant(std::chrono::sys_days(std::chrono::year(2026) / 1 / 1)); }

double lot_effect(const FaultWorld& world, std::uint64_t seed, const std::string& lot) {
  if (world.same_lot_throughout) return 0;
  return world.lot_sd * Draws(Stream::lot, {seed, std::hash<std::string>{}(lot)}).normal();
}

Instant fault_begins(const FaultWorld& world, Side side) { return set_goes_in(world, side, world.earlier); }

review::HouseholdHistory simulate_history(const FaultWorld& world, const Fault& fault, std::uint64_t seed,
                                          std::uint64_t number) {
  Draws draws(Stream::household, {seed, number, 6});
  const Lots lots(world, seed, number);
  review::HouseholdHistory history;
  history.household = "h-" + std::to_string(number);
  const double household = world.household_sd * draws.normal() + world.type_sd * draws.normal();
  const double lot_sd = world.same_lot_throughout ? 0 : world.lot_sd;
  const double own_sd = std::sqrt(world.set_sd * world.set_sd - lot_sd * lot_sd);
  for (const auto side : both_sides) {
    const double level = household + world.side_sd * draws.normal();
    const Channel usual{world.channel_sd * draws.normal(), world.gauge_bias_points * draws.normal()};
    const Channel spare{world.channel_sd * draws.normal(), world.gauge_bias_points * draws.normal()};
    const bool moves = !world.shared_unit.empty();
    const Channel moved = moves ? channel_of(world, seed, world.shared_unit, side) : usual;
    for (int set = 0; set < world.earlier + world.later; ++set) {
      const bool other_unit = world.other_unit_after && set >= world.earlier + world.later / 2;
      const bool by_meter = world.meter_every_other && set % 2 == 1;
      const bool in_moved = moves && set >= world.earlier;
      const auto& channel = in_moved ? moved : other_unit ? spare : usual;
      review::SetRecord record;
      record.household = history.household;
      record.side = side;
      record.from = set_goes_in(world, side, set);
      record.to = set_goes_in(world, side, set + 1);
      record.unit = in_moved ? world.shared_unit : history.household + (other_unit ? "-spare" : "-unit");
      record.stimulator = "invented";
      record.cell_type = "lr6-invented";
      record.lot = lots.name(set);
      record.ended = life::ChangeReason::planned;
      record.expected_mAh = 2000;
      review::ObservedUse seen;
      seen.depth = 0.78 + 0.05 * draws.normal();
      seen.readings = 1;
      seen.standard_error = world.observation_sd;
      // A point of bias at this depth looks like so much less use.
      seen.bias_loading = by_meter ? 0 : -0.01 / seen.depth;
      seen.log_ratio = level + channel.use + lots.effect(set) + own_sd * draws.normal() +
                       world.observation_sd * draws.normal() + seen.bias_loading * channel.bias +
                       excess(world, fault, side, set, lots.is_faulty(set), other_unit, by_meter);
      record.observed = seen;
      history.records.push_back(record);
    }
  }
  return history;
}

}  // namespace cellarer::bench
