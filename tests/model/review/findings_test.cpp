// SPDX-License-Identifier: MIT
// What is found in invented histories, and what the algebra behind it must satisfy.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "model/review/agency_review.hpp"
#include "model/review/side_chart.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

const Instant start = date::sys_days(date::year(2026) / 1 / 1);

/// A home whose sets deviate by a fixed small pattern, so that nothing here is drawn.
HouseholdHistory plain_home(const std::string& name, int sets, const std::string& lot = "A") {
  HouseholdHistory history;
  history.household = name;
  for (int k = 0; k < 2 * sets; ++k) {
    SetRecord record;
    record.household = name;
    record.side = k % 2 == 0 ? Side::left : Side::right;
    record.from = start + 24h * 6 * k;
    record.to = start + 24h * 6 * (k + 2);
    record.unit = name + "-unit";
    record.stimulator = "invented";
    record.cell_type = "lr6";
    record.lot = lot;
    record.ended = life::ChangeReason::planned;
    record.expected_mAh = 2000;
    record.observed = ObservedUse{k / 2 % 2 == 0 ? 0.02 : -0.02, 0.03, -0.0125, 0.8, 3};
    history.records.push_back(record);
  }
  return history;
}

void add(HouseholdHistory& history, Side side, int from_set, double log_use) {
  int set = 0;
  for (auto& record : history.records) {
    if (record.side == side && set++ >= from_set) record.observed->log_ratio += log_use;
  }
}

}  // namespace

TEST_CASE("surprises have the density of the joint normal distribution, row after row") {
  // The chain rule of a normal density: sum of squares and of log standard deviations are the joint's.
  const auto history = plain_home("h-1", 4);
  const Spreads spreads;
  const auto rows = rows_of(history.records, {}, spreads);
  const Whitened whitened(rows, spreads);
  const auto count = static_cast<Eigen::Index>(rows.size());
  Eigen::MatrixXd cov(count, count);
  Eigen::VectorXd value(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const auto& row = rows[static_cast<std::size_t>(i)];
    value[i] = row.value;
    for (Eigen::Index j = 0; j < count; ++j)
      cov(i, j) = covariance(row, rows[static_cast<std::size_t>(j)], spreads, rows.front().from);
    cov(i, i) += spreads.set * spreads.set + row.standard_error * row.standard_error;
  }
  CHECK(whitened.surprise().squaredNorm() == Approx(value.dot(cov.inverse() * value)));
  double log_sd = 0;
  for (Eigen::Index i = 0; i < count; ++i) log_sd += std::log(whitened.sd(i));
  CHECK(2 * log_sd == Approx(std::log(cov.determinant())));
}

TEST_CASE("the Bayes factor is the ratio of the two normal densities") {
  // One row of unit noise: y ~ N(m, 1 + s^2) over N(0, 1).
  const double y = 1.3, m = 0.4, s = 0.7;
  const double with = -0.5 * (y - m) * (y - m) / (1 + s * s) - 0.5 * std::log(1 + s * s);
  CHECK(log_bayes_factor({1, y}, {m, s}) == Approx(with + 0.5 * y * y));
  // And the size given the data is the precision-weighted mean.
  const auto size = posterior_size({4, 4 * 0.5}, {0.1, 0.5});
  CHECK(size.mean == Approx((0.5 * 4 + 0.1 * 4) / 8));
  CHECK(size.sd == Approx(1 / std::sqrt(8.0)));
}

TEST_CASE("nothing is found in a home in which nothing is wrong, and one odd set is not a finding") {
  auto history = plain_home("h-1", 14);
  CHECK(review_agency({history}, {}).findings.empty());
  history.records[20].observed->log_ratio += 0.3;
  CHECK(review_agency({history}, {}).findings.empty());
}

TEST_CASE("a side that uses more is found, on that side, from the set on which it began; the cause cannot be told") {
  auto history = plain_home("h-1", 16);
  add(history, Side::left, 10, 0.15);
  const auto findings = review_household(history, {}, {});
  REQUIRE(findings.size() == 1);
  const auto& finding = findings.front();
  CHECK(finding.kind == Kind::step);
  CHECK(finding.scope == Scope::left);
  CHECK(finding.since == history.records[20].from);
  CHECK_FALSE(finding.named.has_value());
  CHECK(finding.change.mean == Approx(0.15).margin(0.03));
  CHECK(finding.sets_before == 10);
  CHECK(finding.sets_touched == 6);
  REQUIRE_FALSE(finding.next.empty());
  double sum = 0;
  for (const double one : finding.causes) sum += one;
  CHECK(sum == Approx(1));
  // Information cannot be more than the causes' entropy.
  double entropy = 0;
  for (const double one : finding.causes) entropy -= one > 0 ? one * std::log2(one) : 0;
  for (const auto& step : finding.next) CHECK(step.bits <= entropy + 1e-3);
}

TEST_CASE("a finding keeps its name as sets come in and its cause becomes known") {
  auto history = plain_home("h-1", 20);
  add(history, Side::left, 10, 0.15);
  std::string id;
  for (std::size_t sets = 32; sets <= 40; sets += 4) {
    auto so_far = history;
    so_far.records.resize(sets);
    const auto findings = review_household(so_far, {}, {});
    REQUIRE(findings.size() == 1);
    if (id.empty()) id = findings.front().id;
    CHECK(findings.front().id == id);
  }
  Check read{Check::What::settings_read, "h-1", Side::left, history.records.back().to, "h-1-unit", 0.15, 0.01};
  history.checks.push_back(read);
  const auto known = review_household(history, {}, {});
  REQUIRE(known.size() == 1);
  CHECK(known.front().id == id);
  CHECK(known.front().named == Cause::settings);
  CHECK(known.front().kind == Kind::settings_not_up_to_date);
  // Closed by a technician: nothing is found of that time again.
  history.settled.push_back({{Side::left}, known.front().since, Instant::max()});
  CHECK(review_household(history, {}, {}).empty());
}

TEST_CASE("of settled times that overlap the one that began last holds: what came later has a level of its own") {
  const std::vector<Settled> settled{{{Side::left}, start + 24h * 12 * 4, Instant::max()},
                                     {{Side::left}, start + 24h * 12 * 8, Instant::max()}};
  const auto surprise = [&](double more) {
    auto history = plain_home("h-1", 16);
    add(history, Side::left, 8, more);
    return Whitened(rows_of(history.records, {}, {}), {}, settled).surprise().squaredNorm();
  };
  // A level's standard deviation is 0.3: being off by as much once adds about 1, and each of eight sets on its own 36.
  CHECK(surprise(0.3) < surprise(0) + 2);
}

TEST_CASE(
    "no change begins with a side's first set: there is nothing before it; what is off from there on is a level") {
  const auto history = plain_home("h-1", 8);
  const auto rows = rows_of(history.records, {}, {});
  int levels = 0;
  for (const auto& story : hypotheses(rows, history.records, {})) {
    const bool from_first = story.start < 2;  // the sides' first sets are the first two rows
    levels += story.shape == Shape::level ? 1 : 0;
    if (story.shape == Shape::level) CHECK(from_first);
    if (story.cause != Cause::cells && (story.shape == Shape::step || story.shape == Shape::drift))
      CHECK_FALSE(from_first);
  }
  CHECK(levels == 8);  // of settings or unit, more or less, either side
}

TEST_CASE("recorded settings that do not show are not up to date") {
  auto history = plain_home("h-1", 14);
  int set = 0;
  for (auto& record : history.records) {
    duty::Settings settings{start - 24h, record.side, 12, 0.28, 4.0, {}};
    if (record.side == Side::left && set++ >= 9) {
      // Recorded at a higher amplitude from here on: 15 % more is expected, and none of it is seen.
      settings.from = start + 24h * 107;
      record.expected_mAh *= 1.15;
      record.observed->log_ratio -= std::log(1.15);
    }
    record.settings = settings;
  }
  const auto findings = review_household(history, {}, {});
  REQUIRE(findings.size() == 1);
  CHECK(findings.front().named == Cause::settings);
}

TEST_CASE("a short lot is found across homes, and three sets do not condemn one") {
  std::vector<HouseholdHistory> homes;
  for (int h = 0; h < 6; ++h) {
    auto home = plain_home("h-" + std::to_string(h), 11, "old-" + std::to_string(h));
    for (std::size_t k = 20; k < 22; ++k) {
      home.records[k].lot = "short";
      home.records[k].observed->log_ratio -= std::log(1 - 0.12);
    }
    homes.push_back(home);
  }
  const auto of_lot = [](const AgencyReview& review) {
    return std::count_if(review.findings.begin(), review.findings.end(), [](const Finding& finding) {
      return finding.kind == Kind::bad_lot && finding.household.empty() && finding.subject == "short";
    });
  };
  const auto review = review_agency(homes, {});
  CHECK(of_lot(review) == 1);
  REQUIRE_FALSE(review.lots.empty());
  CHECK(review.lots.front().subject == "short");
  CHECK(review.lots.front().homes.size() == 6);
  // Partial pooling: nearer to nought than the raw figure, and less uncertain.
  CHECK(review.lots.front().pooled < review.lots.front().raw);
  CHECK(review.lots.front().pooled_sd < review.lots.front().raw_se);
  homes[0].records.resize(21);
  const auto three = review_agency({homes[0], homes[1]}, {});
  CHECK(of_lot(three) == 0);
}

TEST_CASE("a lot that lasts longer than its type is not told to be short") {
  for (const double longer : {0.10, 0.20, 0.35}) {
    std::vector<HouseholdHistory> homes;
    for (int h = 0; h < 6; ++h) {
      auto home = plain_home("h-" + std::to_string(h), 11, "old-" + std::to_string(h));
      for (std::size_t k = 20; k < 22; ++k) {
        home.records[k].lot = "lasts";
        home.records[k].observed->log_ratio -= std::log(1 + longer);
      }
      homes.push_back(home);
    }
    const auto review = review_agency(homes, {});
    const auto& lots = review.lots;
    const auto lot = std::find_if(lots.begin(), lots.end(), [](const Pooled& one) { return one.subject == "lasts"; });
    REQUIRE(lot != lots.end());
    CHECK(lot->bad < 0.01);
    // Partial pooling: between nought and the raw figure.
    CHECK(lot->pooled < 0);
    CHECK(lot->pooled > lot->raw);
    for (const auto& finding : review.findings) CHECK_FALSE((finding.household.empty() && finding.subject == "lasts"));
  }
}

TEST_CASE("changes that always come too early are told, late ones are not") {
  auto history = plain_home("h-1", 6);
  for (auto& record : history.records) record.observed->depth = 0.4;
  const auto early = review_agency({history}, {}).findings;
  REQUIRE(early.size() == 1);
  CHECK(early.front().kind == Kind::changes_too_early);
  CHECK(early.front().causes.size() == cause_count);
  for (auto& record : history.records) record.observed->depth = 0.75;
  CHECK(review_agency({history}, {}).findings.empty());
}

TEST_CASE("a chart marks what changed and signals after a step") {
  auto history = plain_home("h-1", 20);
  add(history, Side::left, 12, 0.25);
  for (std::size_t k = 30; k < history.records.size(); ++k) history.records[k].lot = "B";
  const auto chart = side_chart(history, Side::left, {});
  REQUIRE(chart.size() == 20);
  const auto set = [&](std::size_t k) { return history.records[chart[k].record]; };
  CHECK(marks_between(set(14), set(15)).lot);
  CHECK_FALSE(marks_between(set(13), set(14)).lot);
  bool before = false, after = false;
  for (std::size_t k = 0; k < chart.size(); ++k)
    (k < 12 ? before : after) |= chart[k].ewma.signal || chart[k].cusum.signal;
  CHECK_FALSE(before);
  CHECK(after);
  // The baseline's own uncertainty is counted: it narrows as sets come in.
  CHECK(chart[0].expected_sd > chart[11].expected_sd);
}
