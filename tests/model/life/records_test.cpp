// SPDX-License-Identifier: MIT
// How records become a forecast: order, lateness, ends, and that the same records give the same bits.
#include <algorithm>
#include <cstring>

#include "model/life/stint.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

bool same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

void require_same(const life::SideForecast& a, const life::SideForecast& b) {
  REQUIRE(same_bits(a.remaining_h->p05, b.remaining_h->p05));
  REQUIRE(same_bits(a.remaining_h->p95, b.remaining_h->p95));
  REQUIRE(*a.change_by == *b.change_by);
  REQUIRE(a.nights.size() == b.nights.size());
  for (std::size_t i = 0; i < a.nights.size(); ++i) REQUIRE(same_bits(a.nights[i].risk, b.nights[i].risk));
}

/// Two months of changes every nine days, ended for `reason`, before the set that is in.
testing::World with_history(life::ChangeReason reason, std::chrono::hours every = 24h * 9) {
  testing::World world;
  world.household.cell_changes.clear();
  for (int k = 7; k >= 0; --k) {
    for (const auto side : both_sides) world.change(side, world.start - every * k, reason);
  }
  return world;
}

}  // namespace

TEST_CASE("the same records give the same bits") {
  auto world = with_history(life::ChangeReason::planned);
  world.read(Side::left, world.start + 24h * 2, life::PercentShown{80});
  require_same(world.left(world.start + 24h * 3), world.left(world.start + 24h * 3));
}

TEST_CASE("a late entry belongs to when it happened: the order of recording does not matter") {
  testing::World early, late;
  const auto read = [](testing::World& world, int day, double percent, std::chrono::hours delay) {
    world.read(Side::left, world.start + 24h * day, life::PercentShown{percent}).recorded_at += delay;
  };
  read(early, 2, 82, 0h);
  read(early, 4, 70, 0h);
  read(late, 4, 70, 0h);
  read(late, 2, 82, 24h * 3);
  require_same(early.left(early.start + 24h * 6), late.left(late.start + 24h * 6));
}

TEST_CASE("a forecast of the past knows only what was recorded by then") {
  testing::World world;
  const auto at = world.start + 24h * 3;
  const auto then = world.left(at);
  world.read(Side::left, world.start + 24h * 2, life::PercentShown{30}).recorded_at = at + 2h;
  require_same(world.left(at), then);
  REQUIRE(*world.left(at + 3h).change_by < *then.change_by);
}

TEST_CASE("readings of one moment may come in any order") {
  // Identity of the posterior: the product of likelihoods commutes (to the accuracy of moment matching).
  testing::World one, other;
  const auto at = one.start + 24h * 4;
  one.read(Side::left, at, life::PercentShown{72});
  one.read(Side::left, at, life::SetVolts{2.62});
  other.read(Side::left, at, life::SetVolts{2.62});
  other.read(Side::left, at, life::PercentShown{72});
  REQUIRE(one.left(at).remaining_h->p50 == Approx(other.left(at).remaining_h->p50).epsilon(2e-3));
}

TEST_CASE("a reading at the minute of a change is of the set that came out") {
  testing::World world;
  const auto at = world.start + 24h * 9;
  world.read(Side::left, at, life::PercentShown{15});
  world.change(Side::left, at);
  const auto stints = life::stints(world.household, Side::left, at + 1h);
  REQUIRE(stints.size() == 2);
  REQUIRE(stints[0].readings.size() == 1);
  REQUIRE(stints[1].readings.empty());
}

TEST_CASE("a change older than the newest takes its place in time") {
  testing::World world;
  world.change(Side::left, world.start + 24h * 8);
  world.change(Side::left, world.start + 24h * 4).recorded_at = world.start + 24h * 9;
  const auto stints = life::stints(world.household, Side::left, world.start + 24h * 10);
  REQUIRE(stints.size() == 3);
  REQUIRE(stints[1].in.at == world.start + 24h * 4);
  REQUIRE(stints[1].out->at == world.start + 24h * 8);
}

TEST_CASE("sets that ran out early teach a higher use, sets that lasted long a lower one") {
  // The direction is what is known: a set that ends at nine days of an expected twelve used more.
  const auto at = with_history(life::ChangeReason::planned).start + 1h;
  const auto plain = testing::World().left(at);
  const auto ran_out = with_history(life::ChangeReason::ran_out).left(at);
  const auto lasted = with_history(life::ChangeReason::planned, 24h * 13).left(at);
  REQUIRE(ran_out.remaining_h->p50 < 0.9 * plain.remaining_h->p50);
  REQUIRE(lasted.remaining_h->p50 > plain.remaining_h->p50);
}

TEST_CASE("what was learned ten months ago is less sure by now than what was learned last week") {
  // The side has drifted since (learning.hpp); cells of unknown age, which stood in it meanwhile, taught nothing.
  const auto spread_after = [](std::chrono::hours pause) {
    testing::World world;
    world.household.agency.side_log_sd = 0.1;
    world.household.agency.drift_log_sd_per_month = 0.03;
    world.household.cell_changes.clear();
    for (int k = 6; k >= 1; --k) world.change(Side::left, world.start - pause - 24h * 9 * k);
    world.change(Side::left, world.start - pause).cells.age = life::CellAge::unknown;
    world.change(Side::left, world.start);
    const auto side = world.left(world.start + 1h);
    REQUIRE(side.sets_seen == 6);
    return std::pair{std::log(side.remaining_h->p95 / side.remaining_h->p05), *side.set_life_log_sd};
  };
  const auto [now, next] = spread_after(24h * 300);
  const auto [soon, next_soon] = spread_after(24h * 7);
  CHECK(now > 1.1 * soon);
  CHECK(next > 1.1 * next_soon);
}

TEST_CASE("a fault teaches nothing of use") {
  const auto at = with_history(life::ChangeReason::fault).start + 1h;
  const auto fault = with_history(life::ChangeReason::fault).left(at);
  const auto plain = testing::World().left(at);
  REQUIRE(same_bits(fault.remaining_h->p50, plain.remaining_h->p50));
}

TEST_CASE("what one side teaches of the household, the other side knows") {
  testing::World world;
  for (int k = 7; k >= 1; --k) world.change(Side::left, world.start - 24h * 8 * k, life::ChangeReason::ran_out);
  world.household.cell_changes[0].reason = life::ChangeReason::ran_out;
  const auto at = world.start + 1h;
  const auto right = life::forecast(world.household, at).side(Side::right);
  const auto untaught = life::forecast(testing::World().household, at).side(Side::right);
  REQUIRE(right.remaining_h->p50 < untaught.remaining_h->p50);
}

TEST_CASE("a set that is put back keeps what it has given") {
  // Identity: four days in, three days out, put back: what is left is what four days leave, from the day of return.
  testing::World put_back, stayed;
  put_back.household.cell_changes.front().cells.set_id = "s-1";
  put_back.change(Side::left, put_back.start + 24h * 4).cells.set_id = "s-2";
  put_back.change(Side::left, put_back.start + 24h * 7).cells.set_id = "s-1";
  const auto back = put_back.left(put_back.start + 24h * 7 + 1h), whole = stayed.left(stayed.start + 24h * 4 + 1h);
  REQUIRE(back.remaining_h->p50 == Approx(whole.remaining_h->p50).epsilon(0.02));
  REQUIRE(*back.change_by - (put_back.start + 24h * 7) == *whole.change_by - (stayed.start + 24h * 4));
}

TEST_CASE("settings and a unit that were written down after the cells went in are taken to have held before") {
  // The safer reading of an incomplete record: the set has been drawn on since it went in.
  testing::World late;
  late.household.units.front().from = late.start + 24h * 5;
  for (auto& settings : late.household.settings) settings.from = late.start + 24h * 5;
  const auto at = late.start + 24h * 5 + 1h;
  REQUIRE(same_bits(late.left(at).remaining_h->p50, testing::World().left(at).remaining_h->p50));
}

TEST_CASE("a change because of a warning teaches what a noted warning does, in the same direction") {
  const auto at = with_history(life::ChangeReason::planned).start + 1h;
  const auto warned = with_history(life::ChangeReason::warning, 24h * 8).left(at);
  REQUIRE(warned.remaining_h->p50 < testing::World().left(at).remaining_h->p50);
}

TEST_CASE("a higher amplitude shortens what is left and is given as a reason") {
  testing::World world;
  const auto at = world.start + 24h * 2;
  const auto before = world.left(at + 1h);
  auto settings = world.household.settings.front();
  settings.from = at;
  settings.amplitude = 4.6;
  world.household.settings.push_back(settings);
  const auto after = world.left(at + 1h);
  REQUIRE(after.remaining_h->p50 < before.remaining_h->p50);
  // burst 18 + 52 * 4.6 / 4 = 77.8 mA, mean 0.28 * 77.8 + 0.72 * 2.2 = 23.368 against 21.184 mA: 10.3 %.
  REQUIRE(std::find(after.because.begin(), after.because.end(), "Amplitude up from 4 to 4.6: 10 % faster.") !=
          after.because.end());
}

TEST_CASE("hours actually paced count instead of the settings' spans") {
  testing::World world;
  world.household.paced_instead.push_back({Side::left, world.start, std::nullopt, 24.0});
  // Identity: 24 h at 21.184 mA a day against 10.5 h at 21.184 and 13.5 h of standby at 0.6 mA.
  const double ratio = 24 * 21.184 / (10.5 * 21.184 + 13.5 * 0.6);
  const auto all_day = world.left(world.start + 1h);
  const auto nights = testing::World().left(world.start + 1h);
  REQUIRE(nights.remaining_h->p50 / all_day.remaining_h->p50 == Approx(ratio).epsilon(0.05));
}

TEST_CASE("a set whose last readings, at the minute of its change, fit nothing is looked back on like any other") {
  // Identity: what comes after the change is asked of the new set; the old one's last minute has nothing to follow.
  for (const double percent : {0.0, 100.0}) {
    testing::World world;
    const auto out = world.start + 24h * (percent > 50 ? 8 : 3);
    world.read(Side::left, out, life::PercentShown{percent});
    world.read(Side::left, out, life::PercentShown{percent});
    world.change(Side::left, out);
    const auto forecast = world.left(out + 5h);
    REQUIRE(*forecast.cells_since == out);
    REQUIRE(forecast.phrase == life::Phrase::expected_to_last_tonight);
  }
}
