// SPDX-License-Identifier: MIT
#include "tests/bench/score/equal_run_outs.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "tests/bench/score/frontier.hpp"

namespace cellarer::bench {

namespace {

constexpr std::size_t groups = 10;

/// Limits on the coming night, six a power of ten: 1 in 10 000 to 1 in 5.
Frontier frontier_of(const SweepRecord& record, std::size_t judge, std::size_t forecaster,
                     const std::vector<std::size_t>& group_of, std::optional<std::size_t> left_out) {
  Frontier frontier;
  for (int step = 0; step <= 20; ++step) {
    const double limit = std::pow(10, -4 + step / 6.0);
    const auto comes_out = at_risk_limit(forecaster, limit, 0);
    const auto of_the_rest = [&](const SweepRecord& of, std::size_t set) -> std::optional<std::size_t> {
      return left_out == group_of[set] ? std::nullopt : comes_out(of, set);
    };
    frontier.push_back(lay_over(record, judge, of_the_rest, limit, 0));
  }
  return frontier;
}

/// Homes that stand together are a group: as many of each brand in all, where there are many homes.
std::vector<std::size_t> groups_of(const SweepRecord& record) {
  std::size_t homes = 0;
  for (const auto& set : record.sets()) homes = std::max(homes, set.household + 1);
  std::vector<std::size_t> group_of;
  for (const auto& set : record.sets()) group_of.push_back(set.household * groups / homes);
  return group_of;
}

}  // namespace

EqualRunOuts at_equal_run_outs(const SweepRecord& record, std::size_t judge, std::size_t forecaster, std::size_t other,
                               double per_side_night) {
  EqualRunOuts result{per_side_night};
  const auto group_of = groups_of(record);
  const auto over = [&](std::optional<std::size_t> left_out, Times times) {
    return waste_at(frontier_of(record, judge, forecaster, group_of, left_out), per_side_night, times) /
           waste_at(frontier_of(record, judge, other, group_of, left_out), per_side_night, times);
  };
  result.by_accepted_risk = over(std::nullopt, Times::kept);
  result.counted = over(std::nullopt, Times::counted);
  std::vector<double> left_out;
  for (std::size_t group = 0; group < groups; ++group) left_out.push_back(over(group, Times::counted));
  result.counted_error = jackknife_error(left_out);
  result.run_outs_expected = per_side_night * static_cast<double>(record.nights().size());
  return result;
}

double jackknife_error(const std::vector<double>& with_one_left_out) {
  const auto count = static_cast<double>(with_one_left_out.size());
  const double mean = std::accumulate(with_one_left_out.begin(), with_one_left_out.end(), 0.0) / count;
  double squares = 0;
  for (const double one : with_one_left_out) squares += (one - mean) * (one - mean);
  return std::sqrt((count - 1) / count * squares);
}

}  // namespace cellarer::bench
