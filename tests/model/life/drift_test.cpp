// SPDX-License-Identifier: MIT
// Drift followed without chasing noise, against the scalar Kalman filter in closed form.
#include <cmath>
#include <random>

#include "model/life/lessons.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/taught.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
using testing::mean_use;
using testing::Taught;
using testing::use_variance;
using testing::use_was;

namespace {

/// Only the left side's own use is unknown, and drifts: the joint normal distribution is one number's, and learning is
/// the scalar Kalman filter of a random walk that is seen once a set.
struct Drifting {
  static constexpr double days_a_set = 12;
  Taught taught;
  double added, set_variance;  ///< to the side's variance from one set to the next; of a set about its side

  Drifting() {
    auto& agency = taught.world.household.agency;
    agency.household_log_sd = 0;
    agency.models["plain"].channel_log_sd = agency.models["plain"].exponent_sd = 0;
    taught.world.household.cell_profiles.at("lr6-plain").spread.curve_charge_log_sd = 0;
    added = std::pow(agency.drift_log_sd_per_month, 2) / 30 * days_a_set;
    set_variance = std::pow(agency.set_log_sd, 2);
  }
  /// Variance of the side before a set is seen, once it no longer changes: the Riccati equation P = P R / (P + R) + q.
  double steady_variance() const { return (added + std::sqrt(added * added + 4 * added * set_variance)) / 2; }
  double steady_gain() const { return steady_variance() / (steady_variance() + set_variance); }
};

/// The sets of such a side, one after the other.
class DriftingSets {
 public:
  explicit DriftingSets(const Drifting& drifting)
      : taught_(drifting.taught), course_(taught_.course(taught_.world.start)), learning_(taught_.world.household) {}

  life::SetPrior before_next() {
    learning_.pass_time(Drifting::days_a_set);
    return learning_.prior(course_, taught_.cell());
  }
  void seen(const life::SetPrior& prior, double log_use) {
    learning_.learn(course_, taught_.cell(), prior, use_was(prior, log_use));
  }
  life::SetPrior known() const { return learning_.prior(course_, taught_.cell()); }

 private:
  const Taught& taught_;
  life::Course course_;
  life::Learning learning_;
};

}  // namespace

TEST_CASE("a side that drifts is followed: what is known of it lags as the steady Kalman filter does, and no more") {
  // Identity: an error e before a set leaves (1 - K) e after it, and the truth goes on by `rate`: e = rate / K.
  const Drifting drifting;
  DriftingSets sets(drifting);
  const double rate = 0.005 * Drifting::days_a_set / 30;  // half a per cent a month
  const double most = rate / drifting.steady_gain();
  double truth = 0, lag = 0;
  for (int set = 0; set < 200; ++set) {
    truth += rate;
    const auto prior = sets.before_next();
    lag = truth - mean_use(prior);
    REQUIRE(lag <= most * (1 + 1e-9));
    sets.seen(prior, truth);
  }
  CHECK(lag == Approx(most).epsilon(1e-3));
  CHECK(lag < 0.03);  // of half a per cent a month: what is known is at most half a year old
  CHECK(use_variance(sets.before_next()) - drifting.set_variance == Approx(drifting.steady_variance()).epsilon(1e-3));
}

TEST_CASE("a side that does not drift is not moved about by its sets' noise more than what is known of it says") {
  // Identity: a mean that takes a share K of each new value has the variance K / (2 - K) of theirs. The truth is
  // nought.
  const Drifting drifting;
  DriftingSets sets(drifting);
  std::mt19937_64 random(20261201);
  std::normal_distribution<double> noise(0, std::sqrt(drifting.set_variance));
  constexpr int first = 200, count = 20'000;
  double squares = 0;
  int beyond_two_sd = 0;
  for (int set = 0; set < first + count; ++set) {
    sets.seen(sets.before_next(), noise(random));
    if (set < first) continue;
    const auto known = sets.known();
    const double stated_variance = use_variance(known) - drifting.set_variance;
    squares += mean_use(known) * mean_use(known) / count;
    beyond_two_sd += mean_use(known) * mean_use(known) > 4 * stated_variance ? 1 : 0;
    if (set == first)
      CHECK(stated_variance == Approx((1 - drifting.steady_gain()) * drifting.steady_variance()).epsilon(1e-3));
  }
  const double gain = drifting.steady_gain();
  CHECK(squares == Approx(gain / (2 - gain) * drifting.set_variance).epsilon(0.1));
  CHECK(squares < (1 - gain) * drifting.steady_variance());
  CHECK(beyond_two_sd < 0.0455 * count);  // of a normal number
}

TEST_CASE("a long pause forgets what as many short ones forget, and nothing more than everything") {
  // Identity: a random walk adds variance by time alone.
  const Drifting drifting;
  const auto course = drifting.taught.course(drifting.taught.world.start);
  const auto& cell = drifting.taught.cell();
  const auto after_sets = [&] {
    life::Learning learning(drifting.taught.world.household);
    for (int set = 0; set < 40; ++set) {
      const auto prior = learning.prior(course, cell);
      learning.learn(course, cell, prior, use_was(prior, 0.1));
    }
    return learning;
  };
  const auto untaught = use_variance(life::Learning(drifting.taught.world.household).prior(course, cell));
  for (const auto& [months, everything] : {std::pair{6, false}, std::pair{600, true}}) {
    auto at_once = after_sets(), by_months = after_sets();
    const auto before = use_variance(at_once.prior(course, cell));
    const auto foreseen = at_once.prior(course, cell, 0, 30 * months);
    at_once.pass_time(30 * months);
    for (int month = 0; month < months; ++month) by_months.pass_time(30);
    const auto after = at_once.prior(course, cell);
    CHECK(use_variance(after) > before);
    CHECK(use_variance(after) == Approx(use_variance(by_months.prior(course, cell))).epsilon(1e-12));
    CHECK((foreseen.belief.cov - after.belief.cov).isZero(0));
    CHECK((use_variance(after) == Approx(untaught).epsilon(1e-12)) == everything);
  }
}

TEST_CASE("a set that ends long after the last lesson is held against what has drifted until then") {
  // Identity: time that has passed before a lesson is the same whether the lesson or somebody before it lets it pass.
  Taught taught;
  auto& household = taught.world.household;
  household.agency.side_log_sd = 0.1;
  household.agency.drift_log_sd_per_month = 0.02;
  const auto ended = taught.world.start + 24h * 9;
  taught.world.change(Side::left, ended, life::ChangeReason::ran_out);
  const auto stints = life::stints(household, Side::left, ended + 1h);
  life::LoadTables tables;
  life::Learning paused(household);
  std::optional<Instant> last_lesson;
  life::teach(paused, household, Side::left, stints.front(), tables, last_lesson);
  auto passed = paused;
  std::optional<Instant> long_ago = ended - 24h * 200, just_now = ended;
  passed.pass_time(200);
  life::teach(paused, household, Side::left, stints.front(), tables, long_ago);
  life::teach(passed, household, Side::left, stints.front(), tables, just_now);
  CHECK(paused.state() == passed.state());
  CHECK(long_ago == ended);
}
