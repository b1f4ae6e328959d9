// SPDX-License-Identifier: MIT
// Why changes come too early: the probability of each cause, and when one may be named. The share used is what the
// record lets expect times the ratio of use, so each test sets the two apart.
#include "model/review/early_changes.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

const Instant early_start = date::sys_days(date::year(2026) / 1 / 1);

/// Twelve planned changes, both sides, of which 40 % was used on average; use is `log_ratio` over the record's.
HouseholdHistory early_home(double log_ratio, double depth = 0.4) {
  HouseholdHistory history;
  history.household = "h-1";
  for (int k = 0; k < 12; ++k) {
    SetRecord record;
    record.household = "h-1";
    record.side = k % 2 == 0 ? Side::left : Side::right;
    record.from = early_start + 24h * 5 * k;
    record.to = early_start + 24h * 5 * (k + 2);
    record.unit = "u-1";
    record.cell_type = "lr6";
    record.lot = "A";
    record.ended = life::ChangeReason::planned;
    record.expected_mAh = 1000;
    const double wobble = k % 4 < 2 ? 0.02 : -0.02;
    record.observed = ObservedUse{log_ratio + wobble, 0.03, -0.0125, depth, 2};
    history.records.push_back(record);
  }
  return history;
}

/// Used 40 %, by the record 78 %: as homes that go by the forecast leave it, if their sets used what was expected.
const double half_used = std::log(0.4 / 0.78);

Finding early_finding(const HouseholdHistory& history) {
  const auto found = changes_too_early(history, {});
  REQUIRE(found.has_value());
  CHECK(std::accumulate(found->causes.begin(), found->causes.end(), 0.0) == Approx(1));
  return *found;
}

Check looked(Check::What what, Side side, double log_ratio) {
  return {what, "h-1", side, early_start + 24h * 66, "u-1", log_ratio, 0.015};
}

}  // namespace

TEST_CASE("changes that come early by the record, with use as expected, are the home's choice") {
  const auto found = early_finding(early_home(0));
  CHECK(found.named == Cause::timing);
  CHECK(found.next.empty());
}

TEST_CASE("where half of what the record says is used, the cause cannot be told, and what would tell is said") {
  const auto found = early_finding(early_home(half_used));
  CHECK_FALSE(found.named.has_value());
  CHECK(found.probability_of(Cause::timing) < 0.05);
  for (const auto cause : {Cause::settings, Cause::unit, Cause::habit}) CHECK(found.probability_of(cause) > 0.05);
  REQUIRE(found.next.size() > 2);
  CHECK(std::is_sorted(found.next.begin(), found.next.end(),
                       [](const auto& a, const auto& b) { return a.bits > b.bits; }));
  // Information cannot be more than the causes' entropy.
  double entropy = 0;
  for (const double one : found.causes) entropy -= one > 0 ? one * std::log2(one) : 0;
  for (const auto& step : found.next) CHECK(step.bits <= entropy + 1e-3);
}

TEST_CASE("between the two, asking the home is among what would tell") {
  // By the record 57 %, and a quarter less used than it says.
  const auto found = early_finding(early_home(-0.25, 0.57 * std::exp(-0.25)));
  CHECK_FALSE(found.named.has_value());
  CHECK(std::any_of(found.next.begin(), found.next.end(), [](const auto& one) { return one.step == Step::ask_home; }));
}

TEST_CASE("what was looked at names the cause that it shows, and clears those that it does not") {
  auto read = early_home(half_used);
  for (const auto side : both_sides) read.checks.push_back(looked(Check::What::settings_read, side, half_used));
  CHECK(early_finding(read).named == Cause::settings);
  auto hours = early_home(half_used);
  for (const auto side : both_sides) hours.checks.push_back(looked(Check::What::hours_noted, side, half_used));
  CHECK(early_finding(hours).named == Cause::habit);
  auto measured = early_home(half_used);
  const double before = early_finding(measured).probability_of(Cause::unit);
  for (const auto side : both_sides) measured.checks.push_back(looked(Check::What::bench_current, side, 0));
  CHECK(early_finding(measured).probability_of(Cause::unit) < 0.1 * before);
}

TEST_CASE("a gauge that shows too much is named where a voltmeter saw what the gauge did not") {
  // 35 points too much look like exp(-0.0125 * 35) of the use; every other pair of sets was read by a voltmeter.
  auto history = early_home(0, 0.78);
  int k = 0;
  for (auto& record : history.records) {
    auto& seen = *record.observed;
    const bool by_meter = k++ % 4 >= 2;
    if (by_meter)
      seen.bias_loading = 0;
    else
      seen.log_ratio += -0.0125 * 35;
    seen.depth = by_meter ? 0.55 : 0.55 * std::exp(-0.0125 * 35);
  }
  const auto found = early_finding(history);
  CHECK(found.probability_of(Cause::gauge) > found.probability_of(Cause::settings));
  CHECK(found.probability_of(Cause::gauge) > found.probability_of(Cause::unit));
}
