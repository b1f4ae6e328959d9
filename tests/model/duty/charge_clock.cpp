// SPDX-License-Identifier: MIT
#include "model/duty/timeline.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;
using namespace std::chrono;

namespace {

const Instant start = sys_days(2026y / 5 / 1);

/// 10 h at 20 mA, 10 h at nought, 10 h at 1 mA: 200, 200 and 210 mAh drawn.
ChargeClock clock_of_three() {
  return ChargeClock({{start, start + 10h, Activity::pacing, steady_load(20), 0},
                      {start + 10h, start + 20h, Activity::off, steady_load(0), 0},
                      {start + 20h, start + 30h, Activity::standby, steady_load(1), 0}});
}

}  // namespace

TEST_CASE("charge is current times hours, and is clamped to the timeline") {
  const ChargeClock clock = clock_of_three();
  CHECK(clock.charge_mAh(start - 5h) == 0);
  CHECK(clock.charge_mAh(start + 5h) == Approx(100));
  CHECK(clock.charge_mAh(start + 15h) == Approx(200));
  CHECK(clock.charge_mAh(start + 25h) == Approx(205));
  CHECK(clock.charge_mAh(start + 99h) == Approx(210));
}

TEST_CASE("a charge is reached at the first moment at which it is drawn") {
  const ChargeClock clock = clock_of_three();
  CHECK(clock.when(-1) == start);
  CHECK(clock.when(100) == start + 5h);
  CHECK(clock.when(200) == start + 10h);
  CHECK(clock.when(205) == start + 25h);
  CHECK(clock.when(211) == start + 30h);
  CHECK(clock.reaches(210));
  CHECK_FALSE(clock.reaches(210.1));
}

TEST_CASE("when and charge undo each other to the second") {
  const ChargeClock clock = clock_of_three();
  for (seconds passed = 1s; passed < 10h; passed += 997s)
    CHECK(clock.when(clock.charge_mAh(start + passed)) == start + passed);
}

TEST_CASE("the stretch in force at a boundary is the one that begins there") {
  const ChargeClock clock = clock_of_three();
  CHECK(clock.stretch(start - 1h).activity == Activity::pacing);
  CHECK(clock.stretch(start + 10h).activity == Activity::off);
  CHECK(clock.stretch(start + 29h).activity == Activity::standby);
  CHECK(clock.stretch(start + 31h).activity == Activity::standby);
}
