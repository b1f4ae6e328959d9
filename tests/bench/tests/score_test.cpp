// SPDX-License-Identifier: MIT
#include <cmath>
#include <numbers>

#include "tests/bench/peers/rule_only.hpp"
#include "tests/bench/score/belief_score.hpp"
#include "tests/bench/score/crps.hpp"
#include "tests/bench/score/pit.hpp"
#include "tests/bench/score/poisson.hpp"
#include "tests/bench/score/run_tally.hpp"
#include "tests/bench/world/draws.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

double chance_below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// Cut-off comes at any hour of twenty days alike.
class EvenlyOverTwentyDays final : public RuleOnly {
 public:
  bool advises_change(Side, Instant) override { return false; }
  double probability_by(Side, Instant at, Instant when) override { return hours_between(at, when) / 480; }
};

}  // namespace

TEST_CASE("CRPS of a normal forecast is the closed form") {
  // Gneiting and Raftery (2007), eq. 21: sigma (z (2 Phi(z) - 1) + 2 phi(z) - 1 / sqrt(pi)).
  CHECK(crps(chance_below, 0, -8, 8, 400) == Approx(0.233695).epsilon(1e-5));
  CHECK(crps(chance_below, 1, -8, 8, 400) == Approx(0.602441).epsilon(1e-5));
  // Scale: of N(0, 3^2) three times as much.
  const auto wide = [](double x) { return chance_below(x / 3); };
  CHECK(crps(wide, 3, -24, 24, 400) == Approx(3 * 0.602441).epsilon(1e-5));
}

TEST_CASE("CRPS of a point forecast is the absolute error, outside the span too") {
  const auto surely_five = [](double x) { return x >= 5 ? 1.0 : 0.0; };
  CHECK(crps(surely_five, 7, 5, 9, 200) == Approx(2).epsilon(0.01));
  const auto even = [](double x) { return std::min(std::max(x, 0.0), 1.0); };
  // Uniform on (0, 1), truth at 3: 2 beyond the end and the integral of x^2.
  CHECK(crps(even, 3, 0, 1, 200) == Approx(2 + 1.0 / 3).epsilon(1e-6));
}

TEST_CASE("the exact 95 % upper bound of a Poisson mean") {
  // Review of Particle Physics (Particle Data Group), section Statistics, table of limits for the mean of a Poisson
  // variable: upper limits of 95 %.
  const double table[] = {3.00, 4.74, 6.30, 7.75, 9.15, 10.51, 11.84, 13.15, 14.43, 15.71, 16.96};
  for (std::uint64_t n = 0; n <= 10; ++n) CHECK(poisson_upper_bound(n) == Approx(table[n]).margin(0.006));
}

TEST_CASE("a uniform transform is covered as often as the intervals say") {
  Coverage coverage;
  constexpr int evenings = 1000;
  for (int i = 0; i < evenings; ++i) coverage.add((i + 0.5) / evenings);
  for (std::size_t level = 0; level < Coverage::levels.size(); ++level) {
    CHECK(coverage.share(level) == Approx(Coverage::levels[level]).margin(1e-9));
  }
  CHECK(coverage.mean_pit() == Approx(0.5));
  // A belief twice too narrow: u of a normal truth with twice the spread; 90 % intervals hold 2 Phi(1.645 / 2) - 1.
  Coverage narrow;
  constexpr int places = 2000;
  for (int i = 0; i < places; ++i) {
    const double z = -8 + 16 * (i + 0.5) / places;
    const auto times = std::lround(1000 * std::exp(-0.5 * z * z));
    for (long k = 0; k < times; ++k) narrow.add(chance_below(2 * z));
  }
  CHECK(narrow.share(Coverage::ninety) == Approx(2 * chance_below(1.6449 / 2) - 1).margin(0.003));
}

TEST_CASE("an atom of the belief is spread by chance") {
  // Half the belief lies at the truth: u anywhere between 0.3 and 0.8.
  CHECK(randomised_pit(0.3, 0.8, 0) == Approx(0.3));
  CHECK(randomised_pit(0.3, 0.8, 0.5) == Approx(0.55));
}

TEST_CASE("random numbers are SplitMix64's") {
  // Rosetta Code, "Pseudo-random numbers/Splitmix64": the first five of the seed 1234567.
  std::uint64_t state = 1234567;
  for (const std::uint64_t expected : {6457827717110365317U, 3203168211198807973U, 9817491932198370423U,
                                       4593380528125082431U, 16408922859458223821U}) {
    state += split_mix_golden;
    CHECK(split_mix(state) == expected);
  }
}

TEST_CASE("the risk of each of seven nights is held against the night in which cut-off came") {
  EvenlyOverTwentyDays forecaster;
  Forecaster* const all[] = {&forecaster};
  BeliefScore score(0, "percent", {1, 0});
  Evening evening{};
  evening.next = evening.at + std::chrono::hours(24);
  evening.cutoff = evening.at + std::chrono::hours(60);  // in the third night
  evening.forecasters = all;
  score.evening(evening);
  evening.cutoff = evening.at + std::chrono::hours(12);  // in the coming one
  score.evening(evening);
  // Each night has a risk of 24 of 480 hours, 0.05: the decade from 0.01 to 0.1, the last but one.
  const auto& coming = score.reliability()[reliability_bins - 2];
  CHECK(reliability_bin_name(reliability_bins - 2) == "1e-2 to 1e-1");
  CHECK(coming.nights == 2);
  CHECK(coming.said == Approx(2 * 0.05));
  CHECK(coming.came == 1);
  const auto& later = score.later_reliability()[reliability_bins - 2];
  CHECK(later.nights == 2 * 6);
  CHECK(later.said == Approx(12 * 0.05));
  CHECK(later.came == 1);
}

TEST_CASE("run-outs are those that a forecast is judged by") {
  RunTally tally, more;
  const Instant start{};
  const auto ended = [&](SetEnd end, double left) {
    return SetEnded{0, Side::left, start, start + std::chrono::hours(240), end, left};
  };
  tally.set_ended(ended(SetEnd::planned, 0.2));
  tally.set_ended(ended(SetEnd::ran_out, 0));
  tally.set_ended(ended(SetEnd::sudden, 0.7));
  more.set_ended(ended(SetEnd::ignored, 0));
  for (int night = 0; night < 20; ++night) {
    Evening evening{};
    evening.at = start + std::chrono::hours(24 * night);
    evening.next = evening.at + std::chrono::hours(24);
    tally.evening(evening);
  }
  tally.merge(more);
  CHECK(tally.run_outs() == 2);
  CHECK(tally.sets() == 4);
  CHECK(tally.side_nights() == Approx(20));
  CHECK(tally.charge_wasted() == Approx(0.9 / 4));
  CHECK(tally.run_outs_per_million_side_nights() == Approx(1e5));
  // Two seen: 6.30 at the most (the table of the Poisson bound above).
  CHECK(tally.bound_per_million_side_nights() == Approx(6.30 / 20 * 1e6).epsilon(1e-3));
  // Of one cause that was seen once: 4.74, of one that was not: 3.00.
  CHECK(tally.bound_per_million_side_nights(SetEnd::ignored) == Approx(4.74 / 20 * 1e6).epsilon(1e-3));
  CHECK(tally.bound_per_million_side_nights(SetEnd::wrong_side) == Approx(3.00 / 20 * 1e6).epsilon(2e-3));
}
