// SPDX-License-Identifier: MIT
#include "tests/bench/faults/cause_scenarios.hpp"

#include <cmath>
#include <mutex>

namespace cellarer::bench {

namespace {

using review::Cause;
using review::Check;

struct Scenario {
  std::string name;
  Cause cause;
  bool evidence_allows;
};

const Scenario scenarios[] = {
    {"settings, read off the unit", Cause::settings, true},
    {"unit, measured before and after", Cause::unit, true},
    {"habit, hours noted", Cause::habit, true},
    {"gauge, every other set read by a meter", Cause::gauge, true},
    {"cells, the lot in five other homes", Cause::cells, true},
    {"settings, nothing looked at", Cause::settings, false},
    {"unit, nothing looked at", Cause::unit, false},
    {"gauge, nothing looked at", Cause::gauge, false},
};
constexpr std::uint64_t scenario_seeds_apart = 7000003;

Check check(Check::What what, const review::HouseholdHistory& history, const FaultWorld& world, int set, double truth,
            double standard_error, Draws& draws) {
  Check done;
  done.what = what;
  done.household = history.household;
  done.side = Side::left;
  done.unit = history.household + "-unit";
  done.at = hours_after(history_begins(), 24 * world.set_days * set + 1);
  done.log_ratio = truth + standard_error * draws.normal();
  done.standard_error = standard_error;
  return done;
}

/// One home of a scenario, with what was looked at.
std::vector<review::HouseholdHistory> homes_of(const Scenario& scenario, std::uint64_t seed, int number) {
  FaultWorld world;
  Fault fault;
  fault.cause = scenario.cause;
  if (scenario.cause == Cause::cells) return homes_of_lot(world, short_lot, seed, number);
  world.same_lot_throughout = true;
  if (scenario.cause == Cause::gauge && scenario.evidence_allows) world.later = 20;
  world.meter_every_other = scenario.cause == Cause::gauge && scenario.evidence_allows;
  auto history = simulate_history(world, fault, seed, static_cast<std::uint64_t>(number));
  if (!scenario.evidence_allows) return {history};
  Draws draws(Stream::people, {seed, static_cast<std::uint64_t>(number)});
  const int after = world.earlier + 6;
  if (scenario.cause == Cause::settings)
    history.checks.push_back(check(Check::What::settings_read, history, world, after, fault.log_use, 0.01, draws));
  if (scenario.cause == Cause::habit)
    history.checks.push_back(check(Check::What::hours_noted, history, world, after, fault.log_use, 0.025, draws));
  if (scenario.cause == Cause::unit) {
    const double channel = world.channel_sd * draws.normal();
    history.checks.push_back(check(Check::What::bench_current, history, world, 0, channel, 0.015, draws));
    history.checks.push_back(
        check(Check::What::bench_current, history, world, after, channel + fault.log_use, 0.015, draws));
  }
  return {history};
}

/// What is said of the home's cause at the end: none, if nothing was found.
struct Said {
  bool found = false;
  std::optional<Cause> named;
};

Said said_of(const Scenario& scenario, const std::vector<review::HouseholdHistory>& homes,
             const review::ReviewOptions& options, const std::string& lot) {
  Said said;
  const auto begins = fault_begins({}, Side::left);
  for (const auto& finding : review::review_agency(homes, options).findings) {
    const bool of_lot = finding.household.empty() && finding.subject == lot;
    const bool of_home = finding.household == homes.front().household && finding.scope != review::Scope::right &&
                         finding.raised_at >= begins && !finding.ended_at;
    const bool counts = scenario.cause == Cause::cells ? of_lot || of_home : of_home;
    if (!counts || said.found) continue;
    said.found = true;
    said.named = finding.named;
  }
  return said;
}

}  // namespace

std::string shared_lot_name(int lot) { return "lot-" + std::to_string(lot); }

std::vector<review::HouseholdHistory> homes_of_lot(const FaultWorld& world, double short_by, std::uint64_t seed,
                                                   int lot) {
  auto shared = world;
  shared.later = 1;
  shared.shared_lot = shared_lot_name(lot);
  Fault fault;
  fault.present = short_by > 0;
  fault.cause = Cause::cells;
  fault.log_use = -std::log(1 - short_by);
  std::vector<review::HouseholdHistory> homes;
  for (int home = 0; home < lot_homes; ++home)
    homes.push_back(simulate_history(shared, fault, seed, static_cast<std::uint64_t>(lot * lot_homes + home)));
  return homes;
}

double work_of_causes(const FaultTrialSize& size) {
  double homes = 0;
  for (const auto& scenario : scenarios) homes += scenario.cause == Cause::cells ? lot_homes : 1;
  return homes * (size.homes / 4);
}

void try_causes(FaultFigures& figures, const FaultTrialSize& size, const Done& done) {
  const auto options = options_learnt_in({}, size, scenario_seeds_apart);
  std::uint64_t number = 1;
  for (const auto& scenario : scenarios) {
    CauseFigures row{scenario.name, scenario.evidence_allows, {}, {}, size.homes / 4};
    const auto seed = size.seed + scenario_seeds_apart * ++number;
    std::mutex mutex;
    each_home(row.homes, [&](int home) {
      const auto homes = homes_of(scenario, seed, home);
      const auto said = said_of(scenario, homes, options, shared_lot_name(home));
      const std::lock_guard lock(mutex);
      done(static_cast<double>(homes.size()));
      if (!said.found) return;
      const bool right = said.named == scenario.cause;
      ++row.right.tried, ++row.cannot_tell.tried;
      row.right.hits += right ? 1 : 0;
      row.cannot_tell.hits += said.named ? 0 : 1;
      auto& total = scenario.evidence_allows ? figures.named_right : figures.told_cannot;
      ++total.tried;
      total.hits += scenario.evidence_allows ? (right ? 1 : 0) : (said.named ? 0 : 1);
      if (said.named) ++figures.right_of_named.tried, figures.right_of_named.hits += right ? 1 : 0;
    });
    figures.causes.push_back(row);
  }
}

}  // namespace cellarer::bench
