// SPDX-License-Identifier: MIT
// Settings that changed while a set was in: what is compared, what is marked, and what is blamed on the record.
#include <cmath>

#include "model/review/comparisons.hpp"
#include "model/review/side_chart.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

const Instant side_start = date::sys_days(date::year(2026) / 1 / 1);
constexpr int changed_in = 8;
constexpr double drawn_before = 0.4, more_current = 1.15;
const Instant changed_at = side_start + 24h * (10 * changed_in + 4);

duty::Settings settings_from(Instant from) { return {from, Side::left, 12, 0.28, 4.0, {}}; }

/// Twenty sets of the left side; in the ninth the settings changed to some that draw 15 % more. What was seen of each:
/// `before` and `after` the change, and of the ninth whatever `between` says.
HouseholdHistory changed_home(double before, double after, double between) {
  HouseholdHistory history;
  history.household = "h-1";
  for (int k = 0; k < 20; ++k) {
    SetRecord record;
    record.household = "h-1";
    record.from = side_start + 24h * 10 * k;
    record.to = record.from + 24h * 10;
    record.unit = "u-1";
    record.cell_type = "lr6";
    record.lot = "A";
    record.settings = settings_from(k <= changed_in ? side_start - 24h : changed_at);
    if (k == changed_in) record.changes.push_back({settings_from(changed_at), drawn_before});
    const double current = k < changed_in ? 1 : k > changed_in ? more_current : 0.4 + 0.6 * more_current;
    record.expected_mAh = 1600 * current;
    record.observed = ObservedUse{k < changed_in ? before : k > changed_in ? after : between, 0.03, 0, 0.8, 1};
    history.records.push_back(record);
  }
  return history;
}

}  // namespace

TEST_CASE("before and after: a set that drew by both settings is in neither, whatever was seen of it") {
  // Means of equal weights: the difference is that of the groups, whole; its error counts six sets each.
  for (const double between : {0.0, 0.04, 0.5}) {
    const auto changes = after_settings_changes(changed_home(0.0, 0.08, between), {});
    REQUIRE(changes.size() == 1);
    CHECK(changes[0].more == Approx(0.08));
    CHECK(changes[0].sets_a == 6);
    CHECK(changes[0].sets_b == 6);
    CHECK(changes[0].sets_between == 1);
    CHECK(changes[0].at == changed_at);
    CHECK(changes[0].standard_error == Approx(0.05 * std::sqrt(2.0 / 6)));
  }
}

TEST_CASE("a change of settings is marked once, where it happened") {
  const auto history = changed_home(0, 0, 0);
  for (std::size_t k = 1; k < history.records.size(); ++k)
    CHECK_FALSE(marks_between(history.records[k - 1], history.records[k]).settings);
  CHECK(history.records[changed_in].changes.front().to.from == changed_at);
  // Changed together with the cells it is marked where the set went in.
  auto together = history;
  together.records[changed_in].changes.clear();
  CHECK(marks_between(together.records[changed_in], together.records[changed_in + 1]).settings);
}

TEST_CASE("settings that were recorded in the middle of a set and never set are named, and that set agrees") {
  // Use goes on as before: the record expects more from the middle of the ninth set on, by the part drawn since then.
  const auto findings =
      review_household(changed_home(0, -std::log(more_current), -std::log(0.4 + 0.6 * more_current)), {}, {});
  REQUIRE(findings.size() == 1);
  CHECK(findings.front().named == Cause::settings);
  CHECK(findings.front().change.mean == Approx(-std::log(more_current)).margin(0.01));
  CHECK(findings.front().since == side_start + 24h * 10 * changed_in);
}
