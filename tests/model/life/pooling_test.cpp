// SPDX-License-Identifier: MIT
// What many homes say of where a new one starts.
#include "model/life/pooling.hpp"

#include <Eigen/Dense>
#include <array>
#include <cmath>

#include "model/life/learning.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
using Kind = life::PooledPlace::Kind;

namespace {

/// A home of which one unknown was measured.
life::Evidence measured(Kind kind, double value, double variance) {
  life::Evidence home;
  home.places = {{kind, kind == Kind::household || kind == Kind::side ? "" : "m", 0.06}};
  home.information = Eigen::MatrixXd::Constant(1, 1, 1 / variance);
  home.pull = Eigen::VectorXd::Constant(1, value / variance);
  return home;
}

/// A set's lesson where its use was measured with this error: Bayes' rule for normal numbers.
life::SetLesson use_seen(const life::SetPrior& prior, double log_use, double sd) {
  life::SetLesson lesson;
  const life::SetBelief::Vector along = prior.belief.cov.col(life::row_use);
  const double total = along[life::row_use] + sd * sd;
  lesson.belief.mean = prior.belief.mean + along * ((log_use - prior.belief.mean[life::row_use]) / total);
  lesson.belief.cov = prior.belief.cov - along * along.transpose() / total;
  return lesson;
}

life::Evidence home_that_saw(const life::Household& household, Instant start, const std::vector<double>& log_uses) {
  life::Learning learning(household);
  const life::Course course(household, Side::left, start, start + 24h * 10);
  const auto& cell = household.cell_profiles.at("lr6-plain");
  for (const double log_use : log_uses) {
    const auto prior = learning.prior(course, cell);
    learning.learn(course, cell, prior, use_seen(prior, log_use, 0.02));
  }
  return learning.evidence();
}

}  // namespace

TEST_CASE("with nothing assumed, pooling is the maximum likelihood of a random-effects model") {
  // Thirteen trials of BCG vaccine, log odds ratios with their variances (Colditz et al. 1994); van Houwelingen, Arends
  // and Stijnen 2002, Statistics in Medicine 21:589: mean -0.742 with standard error 0.178, variance between trials
  // 0.302.
  constexpr std::array<std::array<double, 2>, 13> trials{{{-0.9387, 0.3571},
                                                          {-1.6662, 0.2081},
                                                          {-1.3863, 0.4334},
                                                          {-1.4564, 0.0203},
                                                          {-0.2191, 0.0520},
                                                          {-0.9581, 0.0099},
                                                          {-1.6338, 0.2270},
                                                          {0.0120, 0.0040},
                                                          {-0.4717, 0.0570},
                                                          {-1.4012, 0.0754},
                                                          {-0.3408, 0.0125},
                                                          {0.4466, 0.5342},
                                                          {-0.0173, 0.0716}}};
  std::vector<life::Evidence> homes;
  for (const auto& [value, variance] : trials) homes.push_back(measured(Kind::channel_use, value, variance));
  life::PoolingWeight nothing_assumed;
  nothing_assumed.homes = 0;
  nothing_assumed.mean_sd = 1000;
  nothing_assumed.rounds = 5000;
  const auto model = life::pool(homes, {}, nothing_assumed).model("m");
  REQUIRE(model.use_mean == Approx(-0.742).margin(0.0005));
  REQUIRE(model.channel_log_sd == Approx(std::sqrt(0.302 + 0.178 * 0.178)).margin(0.001));
}

TEST_CASE("homes all alike narrow the spread between homes, unlike ones widen it; few homes move it little") {
  // Identity: m homes seen without error and n assumed ones average their squares.
  const auto spread = [](int homes, double value) {
    std::vector<life::Evidence> all;
    for (int i = 0; i < homes; ++i) all.push_back(measured(Kind::household, i % 2 ? value : -value, 1e-12));
    return life::pool(all, {}).household_log_sd;
  };
  const double first = life::AgencyKnowledge{}.household_log_sd;
  for (const int homes : {2, 40, 1000}) {
    CAPTURE(homes);
    REQUIRE(spread(homes, 0.02) == Approx(std::sqrt((10 * first * first + homes * 0.02 * 0.02) / (10 + homes))));
    REQUIRE(spread(homes, 0.15) == Approx(std::sqrt((10 * first * first + homes * 0.15 * 0.15) / (10 + homes))));
  }
}

TEST_CASE("without homes, or with homes that saw nothing, the agency knows what it assumed") {
  testing::World world;
  const life::AgencyKnowledge first = world.household.agency;
  const auto silent = home_that_saw(world.household, world.start, {});
  REQUIRE_FALSE(silent.tells_something());
  const auto pooled = life::pool({silent, silent}, first);
  REQUIRE(pooled.household_log_sd == first.household_log_sd);
  REQUIRE(pooled.side_log_sd == first.side_log_sd);
  REQUIRE(life::pool({}, first).household_log_sd == first.household_log_sd);
}

TEST_CASE("a home's evidence is its sets' alone: it does not depend on what the agency believed before") {
  // Identity of normal likelihoods: the posterior over the prior is the same whatever the prior was.
  testing::World believing = {}, doubting = {};
  doubting.household.agency.household_log_sd = 0.12;
  doubting.household.agency.side_log_sd = 0.01;
  for (const auto& unit : doubting.household.units) {
    doubting.household.agency.models[unit.stimulator.id].use_mean = 0.07;
    doubting.household.agency.models[unit.stimulator.id].channel_log_sd = 0.2;
  }
  const std::vector<double> uses{0.08, 0.11, 0.05};
  const auto one = home_that_saw(believing.household, believing.start, uses);
  const auto other = home_that_saw(doubting.household, doubting.start, uses);
  REQUIRE(one.tells_something());
  REQUIRE((one.information - other.information).norm() < 1e-6 * one.information.norm());
  REQUIRE((one.pull - other.pull).norm() < 1e-6 * one.pull.norm());
}

TEST_CASE(
    "a model whose units all use more than its profile says starts there in a new home, the surer the more homes") {
  testing::World world;
  const auto seen = home_that_saw(world.household, world.start, {0.10, 0.10, 0.10, 0.10});
  const std::string model = world.household.units.front().stimulator.id;
  double before = 0;
  for (const std::size_t homes : {1u, 10u, 100u}) {
    const auto pooled = life::pool(std::vector<life::Evidence>(homes, seen), world.household.agency);
    CAPTURE(homes);
    REQUIRE(pooled.model(model).use_mean > before);
    REQUIRE(pooled.model(model).use_mean < 0.10);
    before = pooled.model(model).use_mean;
    auto fresh = world.household;
    fresh.agency = pooled;
    const life::Learning learning(fresh);
    const auto prior =
        learning.prior({fresh, Side::left, world.start, world.start + 24h * 10}, fresh.cell_profiles.at("lr6-plain"));
    REQUIRE(prior.belief.mean[life::row_use] == Approx(pooled.model(model).use_mean));
  }
  REQUIRE(before > 0.05);
}
