// SPDX-License-Identifier: MIT
#include "model/review/effects.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

#include "model/quantities/square.hpp"

namespace cellarer::review {

namespace {

constexpr double hours_per_month = 30 * 24;
/// Level of a time that a technician has settled: wide enough to tell nothing.
constexpr double settled_log_sd = 0.3;

/// Which settled time a row belongs to; -1 none. Of several the one that began last: what befell a side within a time
/// that was settled before has a level of its own, or it would be found again.
int settled_time(const Row& row, const std::vector<Settled>& settled) {
  int last = -1;
  for (std::size_t i = 0; i < settled.size(); ++i) {
    const auto& one = settled[i];
    const bool side = std::find(one.sides.begin(), one.sides.end(), row.side) != one.sides.end();
    if (!side || row.from < one.from || row.from > one.to) continue;
    if (last < 0 || one.from >= settled[static_cast<std::size_t>(last)].from) last = static_cast<int>(i);
  }
  return last;
}

}  // namespace

Spreads Spreads::with_agency(const life::AgencyKnowledge& agency) {
  Spreads spreads;
  spreads.household = agency.household_log_sd;
  spreads.side = agency.side_log_sd;
  spreads.set = agency.set_log_sd;
  return spreads;
}

double pooled_set_spread(const std::vector<const SetRecord*>& records, const Spreads& assumed) {
  constexpr double assumed_pairs = 20;
  std::vector<const SetRecord*> seen;
  for (const auto* record : records) {
    if (record->observed) seen.push_back(record);
  }
  const auto place = [](const SetRecord* one) { return std::tie(one->household, one->side); };
  std::stable_sort(seen.begin(), seen.end(), [&](const auto* a, const auto* b) {
    return place(a) < place(b) || (place(a) == place(b) && a->to < b->to);
  });
  double sum = assumed_pairs * square(assumed.set), pairs = assumed_pairs;
  for (std::size_t i = 1; i < seen.size(); ++i) {
    const auto &a = *seen[i - 1], &b = *seen[i];
    const bool alike = place(&a) == place(&b) && a.unit == b.unit && a.cell_type == b.cell_type && a.lot == b.lot &&
                       a.exponent_loading == b.exponent_loading;
    if (!alike) continue;
    const double apart = square(b.observed->log_ratio - a.observed->log_ratio);
    const double noise = square(std::max(a.observed->standard_error, assumed.observation_at_least)) +
                         square(std::max(b.observed->standard_error, assumed.observation_at_least));
    // One mistaken reading must not widen everything: a pair counts at most nine times what was assumed.
    sum += std::min((apart - noise) / 2, 9 * square(assumed.set));
    pairs += 1;
  }
  return std::sqrt(std::max(sum / pairs, square(assumed.set / 4)));
}

double pooled_set_spread(const std::vector<SetRecord>& records, const Spreads& assumed) {
  std::vector<const SetRecord*> pointers;
  pointers.reserve(records.size());
  for (const auto& record : records) pointers.push_back(&record);
  return pooled_set_spread(pointers, assumed);
}

std::vector<Row> rows_of(const std::vector<SetRecord>& records, const std::vector<Check>& checks,
                         const Spreads& spreads) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const auto& record = records[i];
    if (!record.observed) continue;
    const auto& seen = *record.observed;
    const double error = std::max(seen.standard_error, spreads.observation_at_least);
    rows.push_back({record.to, record.from, std::nullopt, record.side, record.unit, record.stimulator, record.cell_type,
                    record.lot, seen.log_ratio, error, seen.bias_loading, record.exponent_loading, i});
  }
  for (std::size_t i = 0; i < checks.size(); ++i) {
    const auto& check = checks[i];
    rows.push_back({check.at, check.at, check.what, check.side, check.unit, "", "", "", check.log_ratio,
                    check.standard_error, 0, 0, i});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.at < b.at; });
  return rows;
}

double covariance(const Row& a, const Row& b, const Spreads& spreads, Instant start) {
  const bool same_channel = !a.unit.empty() && a.unit == b.unit && a.side == b.side;
  const auto on_bench = [](const Row& row) { return row.check == Check::What::bench_current; };
  double sum = 0;
  if (same_channel && (!a.check || on_bench(a)) && (!b.check || on_bench(b))) sum += square(spreads.channel);
  if (a.check || b.check) return sum;
  sum += square(spreads.household);
  if (a.side == b.side) {
    const double hours = std::max(hours_between(start, std::min(a.at, b.at)), 0.0);
    sum += square(spreads.side) + square(spreads.drift_per_month) * hours / hours_per_month;
  }
  if (same_channel) sum += square(spreads.gauge_bias_points) * a.bias_loading * b.bias_loading;
  if (a.cell_type == b.cell_type) sum += square(spreads.cell_type);
  if (!a.lot.empty() && a.lot == b.lot) sum += square(spreads.lot);
  if (a.stimulator == b.stimulator) sum += square(spreads.exponent) * a.exponent_loading * b.exponent_loading;
  return sum;
}

Whitened::Whitened(const std::vector<Row>& rows, const Spreads& spreads, const std::vector<Settled>& settled) {
  const auto count = static_cast<Eigen::Index>(rows.size());
  Eigen::MatrixXd cov = Eigen::MatrixXd::Zero(count, count);
  value_ = Eigen::VectorXd::Zero(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const auto& a = rows[static_cast<std::size_t>(i)];
    const int a_settled = settled_time(a, settled);
    value_[i] = a.value;
    for (Eigen::Index j = 0; j <= i; ++j) {
      const auto& b = rows[static_cast<std::size_t>(j)];
      cov(i, j) = covariance(a, b, spreads, rows.front().from);
      if (a_settled >= 0 && a_settled == settled_time(b, settled)) cov(i, j) += square(settled_log_sd);
    }
    cov(i, i) += square(a.standard_error);
    // A lot that nobody noted is some lot all the same.
    if (!a.check) cov(i, i) += square(spreads.set) + (a.lot.empty() ? square(spreads.lot) : 0);
  }
  const Eigen::LLT<Eigen::MatrixXd> factor(cov);
  assert(count == 0 || factor.info() == Eigen::Success);
  lower_ = factor.matrixL();
  surprise_ = whiten(value_);
}

Eigen::VectorXd Whitened::whiten(const Eigen::VectorXd& pattern) const {
  if (pattern.size() == 0) return pattern;
  return lower_.triangularView<Eigen::Lower>().solve(pattern);
}

}  // namespace cellarer::review
