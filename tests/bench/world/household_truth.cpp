// SPDX-License-Identifier: MIT
#include "tests/bench/world/household_truth.hpp"

#include <algorithm>
#include <cmath>

#include "tests/bench/world/draws.hpp"
#include "tests/bench/world/unit.hpp"

namespace cellarer::bench {

namespace {

constexpr double loss_a_year = 0.02;  ///< of capacity in storage (E91 data sheet: 10 years to 80 %)
constexpr std::size_t standby = static_cast<std::size_t>(-1);

ReadingHabit habit_of(const PeopleSpec& people, double share) {
  std::size_t habit = 0;
  while (habit + 1 < reading_habit_count && share >= people.habits[habit]) share -= people.habits[habit++];
  return static_cast<ReadingHabit>(habit);
}

}  // namespace

double SetCourse::charge_at(Instant at, const std::vector<Instant>& changing_times) const {
  if (at >= cutoff) return charge_to_cutoff_mAh;
  if (at <= in) return 0;
  const auto next = static_cast<std::size_t>(std::lower_bound(changing_times.begin(), changing_times.end(), at) -
                                             changing_times.begin());
  const std::size_t passed = next - first_evening;  // changing times since `in`, before `at`
  const Instant from = passed == 0 ? in : changing_times[next - 1];
  const bool ends_before = passed >= evenings.size();
  const Instant to = ends_before ? cutoff : changing_times[next];
  const double before = passed == 0 ? 0 : evenings[passed - 1].charge_mAh;
  const double after = ends_before ? charge_to_cutoff_mAh : evenings[passed].charge_mAh;
  return before + (after - before) * hours_between(from, at) / hours_between(from, to);
}

HouseholdTruth::HouseholdTruth(const World& world, std::uint64_t seed, std::size_t household)
    : world_(&world),
      seed_(seed),
      household_(household),
      burst_share_(
          Draws(Stream::world, {seed}).uniform(world.spec().unit.burst_share_low, world.spec().unit.burst_share_high)),
      duty_(duty_truth(world, seed, household)) {
  const auto& spec = world.spec();
  Draws draws(Stream::household, {seed, household});
  habit_ = habit_of(spec.people, draws.uniform());
  const double together = spec.use.household_log_sd * draws.normal();
  for (auto& side : side_log_use_) side = together + spec.use.side_log_sd * draws.normal();
  for (std::size_t unit = 0; unit < channels_.size(); ++unit) {
    for (std::size_t side = 0; side < 2; ++side) {
      Draws channel(Stream::unit, {seed, household, unit, side});
      channels_[unit][side].log_use = spec.use.channel_log_sd * channel.normal();
      channels_[unit][side].bias = spec.unit.unit_bias_points * channel.normal();
      channels_[unit][side].exponent = world.unit_of(household).left.exponent + spec.use.exponent_sd * channel.normal();
    }
  }
  for (const auto side : both_sides) draw_days(side);
}

void HouseholdTruth::draw_days(Side side) {
  const auto& spec = world_->spec();
  const std::size_t index = index_of(side);
  const auto count = duty_.stretches[index].back().day + 1;
  const double keep = spec.unit.wander_correlation, renew = std::sqrt(1 - keep * keep);
  const double drift_a_day = spec.use.drift_log_sd_a_month / std::sqrt(30.0);
  double drift = 0, wander = 0;
  days_[index].reserve(count);
  Draws draws(Stream::day, {seed_, household_, index}), walk(Stream::walk, {seed_, household_, index});
  for (std::size_t day = 0; day < count; ++day) {
    const double fresh = walk.normal();
    wander = day == 0 ? fresh : keep * wander + renew * fresh;
    if (drift_a_day > 0) drift += drift_a_day * walk.normal();
    days_[index].push_back(
        {side_log_use_[index] + drift + spec.use.day_log_sd * draws.normal(), spec.unit.wander_points * wander});
    if (spec.people.sudden_a_year > 0 && draws.happens(spec.people.sudden_a_year / 365)) {
      const auto within = std::chrono::seconds(static_cast<long>(draws.uniform(0, 86400)));
      failures_[index].push_back(duty_.changing_times.front() + std::chrono::days(day) + within);
    }
  }
}

SetTruth HouseholdTruth::set(Side side, int number) const {
  const auto& cells = world_->spec().cells;
  SetTruth set;
  set.lot = number / cells.sets_a_lot;
  Draws lot(Stream::lot, {seed_, household_, static_cast<std::uint64_t>(set.lot)});
  const double lot_log = cells.lot_log_sd * lot.normal();
  set.stored_years = cells.stored_years_most * lot.uniform();
  const std::size_t count = world_->brands().size();
  set.brand = household_ % count;
  if (cells.other_brand > 0 && lot.happens(cells.other_brand)) {
    set.brand = static_cast<std::size_t>(lot.uniform() * static_cast<double>(count));
  }
  Draws own(Stream::set, {seed_, household_, index_of(side), static_cast<std::uint64_t>(number)});
  set.log_capacity = lot_log + cells.set_log_sd * own.normal() + std::log1p(-loss_a_year * set.stored_years);
  set.log_use = world_->spec().use.set_log_sd * own.normal();
  set.gauge_bias = world_->spec().unit.set_bias_points * own.normal();
  set.dud = own.happens(cells.dud_fraction);
  if (set.dud) set.log_capacity += std::log1p(-cells.dud_shortfall);
  return set;
}

const HouseholdTruth::Table& HouseholdTruth::table(std::size_t brand, Side side, const DutyStretch& stretch) const {
  const std::size_t index = index_of(side);
  const std::array<std::size_t, 4> key{brand, index, stretch.pacing ? stretch.unit : 0,
                                       stretch.pacing ? stretch.settings : standby};
  const auto found = tables_.find(key);
  if (found != tables_.end()) return found->second;
  const auto& unit = world_->unit_of(household_);
  const auto& electronics = unit.side(side);
  const auto load = stretch.pacing ? pacing_load_of(electronics, duty_.settings[index][stretch.settings],
                                                    channels_[stretch.unit][index].exponent)
                                   : standby_load_of(electronics);
  LoadTable made(world_->brands()[brand].truth, unit, load, burst_share_);
  const double cutoff_hours = made.hours_at(made.z_at(unit.cutoff_V));
  return tables_.emplace(key, Table{std::move(made), cutoff_hours}).first->second;
}

/// One set followed through the stretches of its side.
class HouseholdTruth::Walk {
 public:
  Walk(const HouseholdTruth& truth, SetCourse& course)
      : truth_(truth),
        course_(course),
        unit_(truth.world_->unit_of(truth.household_)),
        capacity_(std::exp(course.set.log_capacity)) {}

  /// False once the set is at cut-off.
  bool through(const DutyStretch& stretch) {
    const Table& table = truth_.table(course_.set.brand, course_.side, stretch);
    const auto& channel = truth_.channels_[stretch.unit][index_of(course_.side)];
    const auto& day = truth_.days(course_.side)[stretch.day];
    const double log_use = course_.set.log_use + day.log_use + channel.log_use;
    const double stretch_of_z = std::exp(log_use * (table.load.exponent() - 1)) / capacity_;
    const double rate = std::exp(log_use) * stretch_of_z;
    const Instant from = std::max(stretch.from, course_.in);
    const double h0 = table.load.hours_at(charge_ * stretch_of_z);
    double h1 = h0 + rate * hours_between(from, stretch.to);
    const double error = channel.bias + course_.set.gauge_bias + day.wander;
    const bool ends = stretch.pacing && h1 >= table.cutoff_hours;
    if (ends) h1 = std::max(h0, table.cutoff_hours);
    const double z1 = table.load.z_after(h1);
    charge_ = z1 / stretch_of_z;
    if (stretch.pacing && !course_.warning) {
      const double warned_z = table.load.z_at(volts_at(unit_.gauge.volts_at_percent, unit_.warning_percent - error));
      if (z1 >= warned_z) {
        const double at_h = std::max(h0, table.load.hours_at(warned_z));
        course_.warning = hours_after(from, (at_h - h0) / rate);
      }
    }
    if (ends) {
      course_.cutoff = hours_after(from, (h1 - h0) / rate);
      course_.charge_to_cutoff_mAh = charge_;
      if (course_.warning && *course_.warning >= course_.cutoff) course_.warning.reset();
      return false;
    }
    if (stretch.evening != no_evening) {
      const double volts = table.load.set_V(z1);
      course_.evenings.push_back(
          {charge_, volts, percent_at(unit_.gauge.volts_at_percent, volts) + error, stretch.pacing});
    }
    return true;
  }

  double charge() const { return charge_; }

 private:
  const HouseholdTruth& truth_;
  SetCourse& course_;
  const duty::Stimulator& unit_;
  double capacity_;
  double charge_ = 0;  ///< given by each cell [mAh]
};

SetCourse HouseholdTruth::course(Side side, int number, Instant in) const {
  SetCourse course;
  course.side = side;
  course.number = number;
  course.set = set(side, number);
  course.in = in;
  const auto& evenings = duty_.changing_times;
  course.first_evening =
      static_cast<std::size_t>(std::upper_bound(evenings.begin(), evenings.end(), in) - evenings.begin());
  const auto& stretches = duty_.stretches[index_of(side)];
  auto stretch =
      std::partition_point(stretches.begin(), stretches.end(), [in](const DutyStretch& one) { return one.to <= in; });
  const auto pacing = std::find_if(stretch, stretches.end(), [](const DutyStretch& one) { return one.pacing; });
  if (pacing != stretches.end()) {
    const auto& channel = channels_[pacing->unit][index_of(side)];
    course.lasting_log_use = side_log_use_[index_of(side)] + channel.log_use + course.set.log_use;
    course.lasting_gauge_bias = channel.bias + course.set.gauge_bias;
    const auto& load = table(course.set.brand, side, *pacing).load;
    course.charge_at_profile_use_mAh =
        load.z_at(world_->unit_of(household_).cutoff_V) * std::exp(course.set.log_capacity);
  }
  Walk walk(*this, course);
  course.cutoff = evenings.back();
  while (stretch != stretches.end() && walk.through(*stretch)) ++stretch;
  if (stretch == stretches.end()) course.charge_to_cutoff_mAh = std::max(walk.charge(), 1e-9);
  const auto& failures = failures_[index_of(side)];
  const auto failure = std::upper_bound(failures.begin(), failures.end(), in);
  if (failure != failures.end() && *failure < course.cutoff) course.failure = *failure;
  return course;
}

}  // namespace cellarer::bench
