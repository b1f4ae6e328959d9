// SPDX-License-Identifier: MIT
#include "tests/bench/faults/further_scenarios.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>

#include "tests/bench/faults/cause_scenarios.hpp"

namespace cellarer::bench {

namespace {

constexpr std::uint64_t further_seeds_apart = 9000011;

struct FoundOnSide {
  int sets = 1 << 20;  ///< of the faulty side, since the fault began, until it was found
  const review::Finding* first = nullptr;
};

FoundOnSide first_on_side(const FaultWorld& world, const Fault& fault, const review::HouseholdHistory& history,
                          const std::vector<review::Finding>& findings) {
  const auto begins = fault_begins(world, fault.side);
  FoundOnSide found;
  for (const auto& finding : findings) {
    if (!review::in_scope(fault.side, finding.scope) || finding.raised_at < begins) continue;
    const auto sets = std::count_if(history.records.begin(), history.records.end(), [&](const auto& record) {
      return record.side == fault.side && record.from >= begins && record.to <= finding.raised_at;
    });
    if (static_cast<int>(sets) < found.sets) found = {static_cast<int>(sets), &finding};
  }
  return found;
}

/// What one kind of fault comes to: found within so many sets, called by its kind, and its cause left open.
struct Counted {
  review::Kind kind;
  std::array<std::pair<int, Share*>, 2> within;
  Share *called_so, *cannot_tell;
};

void count(Share& share, bool hit) { ++share.tried, share.hits += hit ? 1 : 0; }

void count_found(const FaultWorld& world, const Fault& fault, const FaultTrialSize& size, std::uint64_t seed,
                 const Counted& counted, const Done& done) {
  const auto options = options_learnt_in({}, size, 1);
  std::mutex mutex;
  each_home(size.homes, [&](int home) {
    const auto history = simulate_history(world, fault, seed, static_cast<std::uint64_t>(home));
    const auto findings = review::review_household(history, {}, options);
    const auto found = first_on_side(world, fault, history, findings);
    const std::lock_guard lock(mutex);
    done(1);
    for (const auto& [sets, share] : counted.within) count(*share, found.sets <= sets);
    if (found.first == nullptr) return;
    count(*counted.called_so, found.first->kind == counted.kind);
    count(*counted.cannot_tell, !found.first->named);
  });
}

bool accused(const std::vector<review::HouseholdHistory>& homes, const std::string& unit,
             const review::ReviewOptions& options) {
  const auto review = review::review_agency(homes, options);
  return std::any_of(review.findings.begin(), review.findings.end(), [&](const review::Finding& finding) {
    return finding.kind == review::Kind::unit_eats_cells && finding.household.empty() && finding.subject == unit;
  });
}

}  // namespace

std::string shared_unit_name(int unit) { return "unit-" + std::to_string(unit); }

std::vector<review::HouseholdHistory> homes_of_unit(const FaultWorld& world, bool bad, std::uint64_t seed, int unit) {
  auto shared = world;
  shared.later = 2;
  shared.shared_unit = shared_unit_name(unit);
  Fault fault;
  fault.present = bad;
  fault.cause = review::Cause::unit;
  fault.log_use = std::log(1.15);
  std::vector<review::HouseholdHistory> homes;
  for (int home = 0; home < unit_homes; ++home)
    homes.push_back(simulate_history(shared, fault, seed, static_cast<std::uint64_t>(unit * unit_homes + home)));
  return homes;
}

double work_of_further(const FaultTrialSize& size) { return (2.0 + 2.0 * unit_homes) * size.homes; }

FurtherFigures try_further(const FaultTrialSize& size, const Done& done) {
  FurtherFigures figures;
  const auto seed = size.seed + further_seeds_apart;
  FaultWorld world;
  world.same_lot_throughout = true;
  Fault drift;
  drift.drifts = true;
  count_found(world, drift, size, seed,
              {review::Kind::drift,
               {std::pair{8, &figures.drift_within_8}, std::pair{12, &figures.drift_within_12}},
               &figures.drift_called_so,
               &figures.drift_cannot_tell},
              done);
  world.earlier = 0;
  Fault level;
  level.log_use = std::log(1.35);
  count_found(world, level, size, 2 * seed,
              {review::Kind::asymmetry,
               {std::pair{4, &figures.asymmetry_within_4}, std::pair{8, &figures.asymmetry_within_8}},
               &figures.asymmetry_called_so,
               &figures.asymmetry_cannot_tell},
              done);
  const auto options = options_learnt_in({}, size, 1);
  std::mutex mutex;
  for (const bool bad : {true, false}) {
    each_home(size.homes, [&](int unit) {
      const bool found = accused(homes_of_unit({}, bad, (bad ? 3 : 4) * seed, unit), shared_unit_name(unit), options);
      const std::lock_guard lock(mutex);
      done(unit_homes);
      auto& share = bad ? figures.units_found : figures.false_units;
      count(share, found);
    });
  }
  return figures;
}

}  // namespace cellarer::bench
