// SPDX-License-Identifier: MIT
#include "server/service/reviewed_agency.hpp"

#include <algorithm>
#include <cmath>
#include <deque>

namespace cellarer::service {

namespace {

/// How well the bench measures a current (tests/bench/faults: the same).
constexpr double bench_error = 0.015;

/// By the profile that sets are expected by: once a unit's measured values are approved, they say nothing against it.
double expected_mA(const BenchValue& value, const Libraries& libraries) {
  const auto profile = libraries.unit(value.serial, value.stimulator);
  return profile ? duty::burst_current_mA(profile->side(value.side), value.amplitude) : 0;
}

const HomeOutline* last_home_of(const BenchValue& value, const std::vector<HomeOutline>& homes) {
  const HomeOutline* last = nullptr;
  Instant since{};
  for (const auto& home : homes) {
    for (const auto& stay : home.units) {
      if (stay.serial != value.serial || stay.spare || stay.from > value.at || stay.from < since) continue;
      since = stay.from;
      last = &home;
    }
  }
  return last;
}

/// What was measured of a unit tells of the home that had it last.
void add_bench_checks(ReviewedAgency& agency, const Libraries& libraries) {
  for (const auto& value : agency.bench.values) {
    const double expected = expected_mA(value, libraries);
    const auto* home = expected > 0 ? last_home_of(value, agency.homes) : nullptr;
    if (home == nullptr) continue;
    agency.bench_checks[home->reference].push_back({review::Check::What::bench_current, home->reference, value.side,
                                                    value.at, value.serial, std::log(value.current_mA / expected),
                                                    bench_error});
  }
}

double spread_of_sets(const review::Histories& histories, const review::Spreads& assumed) {
  std::vector<const review::SetRecord*> records;
  for (const auto* history : histories) {
    for (const auto& record : history->records) records.push_back(&record);
  }
  return review::pooled_set_spread(records, assumed);
}

void add_cell_types(ReviewedAgency& agency, const review::Histories& histories) {
  for (const auto* history : histories) {
    for (const auto& record : history->records) {
      if (!record.lot.empty() && !record.cell_type.empty()) agency.cell_types[record.lot] = record.cell_type;
    }
  }
}

std::vector<review::PartService> parts_of(const ReviewedHomes& homes) {
  std::vector<review::PartService> parts;
  for (const auto& home : homes) parts.insert(parts.end(), home->parts.begin(), home->parts.end());
  return parts;
}

}  // namespace

void review_together(ReviewedAgency& agency, const ReviewedHomes& homes, const Libraries& libraries) {
  for (const auto& home : homes) agency.homes.push_back(*home);
  add_bench_checks(agency, libraries);
  review::Histories histories;
  std::deque<review::HouseholdHistory> measured;  // only these few are other than their home has them
  for (const auto& home : homes) {
    histories.push_back(&home->history);
    const auto checks = agency.bench_checks.find(home->reference);
    if (checks == agency.bench_checks.end()) continue;
    auto& more = measured.emplace_back(home->history);
    more.checks.insert(more.checks.end(), checks->second.begin(), checks->second.end());
    histories.back() = &more;
  }
  agency.options.spreads = review::Spreads::with_agency(*agency.knowledge);
  agency.options.spreads.set = spread_of_sets(histories, agency.options.spreads);
  agency.review = review::review_agency(histories, agency.options);
  agency.findings = listed_findings(agency, homes);
  agency.review.findings = {};
  add_cell_types(agency, histories);
  agency.wear = review::wear(parts_of(homes), agency.as_of);
}

}  // namespace cellarer::service
