// SPDX-License-Identifier: MIT
#include "model/cell/score.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>

#include "model/cell/score_rows.hpp"
#include "model/numerics/ridge.hpp"

namespace cellarer::cell {

namespace {

FitSummary fit_without(const PublishedCell& cell, const std::optional<FamilyPrior>& prior,
                       const std::function<bool(const Discharge&)>& hidden) {
  FitOptions options;
  options.prior = prior;
  for (std::size_t i = 0; i < cell.discharges.size(); ++i) {
    if (hidden(cell.discharges[i])) options.left_out.push_back(i);
  }
  return fit(cell, options);
}

void score_fitted(const PublishedCell& cell, BrandScore& score) {
  const std::vector<ScoredRow> rows = scored_rows(cell);
  const FitSummary all = fit(cell);
  for (const ScoredRow& row : rows) {
    (row.current_mA == 100 ? score.at_100_mA : score.at_500_mA).add(relative_error(all, row));
  }
  std::set<int> cutoffs;
  for (const ScoredRow& row : rows) cutoffs.insert(row.cutoff_cV);
  for (const int cutoff : cutoffs) {
    const FitSummary rest =
        fit_without(cell, std::nullopt, [&](const Discharge& d) { return centivolts(d.cutoff_V) == cutoff; });
    for (const ScoredRow& row : rows) {
      if (row.cutoff_cV == cutoff) score.left_out.add(relative_error(rest, row));
    }
  }
}

void score_across(const PublishedCell& cell, const FamilyPrior& prior, const std::set<int>& common_100,
                  BrandScore& score) {
  const std::vector<ScoredRow> rows = scored_rows(cell);
  for (const double hidden_mA : {500.0, 100.0}) {
    const FitSummary one = fit_without(cell, prior, [&](const Discharge& d) { return is_current(d, hidden_mA); });
    for (const ScoredRow& row : rows) {
      if (row.current_mA != hidden_mA || (hidden_mA == 100 && common_100.count(row.cutoff_cV) == 0)) continue;
      (hidden_mA == 500 ? score.across_to_500 : score.across_to_100).add(relative_error(one, row));
    }
  }
}

/// Cut-offs at which every brand has hours at this current.
std::set<int> common_cutoffs(const std::vector<PublishedCell>& cells, double current_mA) {
  std::map<int, std::size_t> count;
  for (const PublishedCell& cell : cells) {
    for (const ScoredRow& row : scored_rows(cell)) {
      if (row.current_mA == current_mA) ++count[row.cutoff_cV];
    }
  }
  std::set<int> common;
  for (const auto& [cutoff, brands] : count) {
    if (brands == cells.size()) common.insert(cutoff);
  }
  return common;
}

Eigen::MatrixXd log_hours(const std::vector<PublishedCell>& cells, double current_mA, const std::set<int>& cutoffs) {
  Eigen::MatrixXd table(static_cast<Eigen::Index>(cells.size()), static_cast<Eigen::Index>(cutoffs.size()));
  for (std::size_t i = 0; i < cells.size(); ++i) {
    Eigen::Index column = 0;
    for (const ScoredRow& row : scored_rows(cells[i])) {
      if (row.current_mA != current_mA || cutoffs.count(row.cutoff_cV) == 0) continue;
      table(static_cast<Eigen::Index>(i), column++) = std::log(row.hours);
    }
  }
  return table;
}

void score_ridge(const Eigen::MatrixXd& x, const Eigen::MatrixXd& y, std::vector<BrandScore>& brands,
                 ErrorSum BrandScore::*into) {
  for (Eigen::Index i = 0; i < x.rows(); ++i) {
    Eigen::MatrixXd others_x(x.rows() - 1, x.cols()), others_y(y.rows() - 1, y.cols());
    others_x << x.topRows(i), x.bottomRows(x.rows() - 1 - i);
    others_y << y.topRows(i), y.bottomRows(y.rows() - 1 - i);
    const double penalty = numerics::best_penalty(others_x, others_y, 1e-4, 10, 26);
    const Eigen::RowVectorXd predicted = numerics::Ridge(others_x, others_y, penalty).predict(x.row(i));
    for (Eigen::Index j = 0; j < y.cols(); ++j) {
      (brands[static_cast<std::size_t>(i)].*into).add(std::expm1(predicted[j] - y(i, j)));
    }
  }
}

bool scored_point(const PublishedCell& cell, const Discharge& row) {
  const double current = row.load.value;
  return cell.designation == "LR6" && !cell.family && row.capacity_mAh && row.load.kind == LoadKind::current &&
         !row.regimen && (current == 25 || current == 200 || current == 1000);
}

void score_points(const PublishedCell& cell, const std::function<FamilyPrior()>& prior_without, AccuracyTable& table) {
  const FitSummary all = fit(cell);
  std::optional<FamilyPrior> prior;
  for (std::size_t i = 0; i < cell.discharges.size(); ++i) {
    const Discharge& row = cell.discharges[i];
    if (!scored_point(cell, row)) continue;
    if (!prior) prior = prior_without();
    FitOptions options;
    options.prior = prior;
    options.left_out = {i};
    const FitSummary rest = fit(cell, options);
    table.points.push_back({cell.id, row.load.value, row.cutoff_V, *row.capacity_mAh,
                            std::expm1(all.points[i].log_residual), std::expm1(rest.points[i].log_residual)});
  }
}

void merge(const ErrorSum& part, ErrorSum& whole) {
  whole.sum += part.sum;
  whole.signed_sum += part.signed_sum;
  whole.count += part.count;
  whole.largest = std::max(whole.largest, part.largest);
}

void add_up(AccuracyTable& table) {
  for (const BrandScore& brand : table.brands) {
    merge(brand.at_100_mA, table.fitted);
    merge(brand.at_500_mA, table.fitted);
    merge(brand.left_out, table.left_out);
    merge(brand.across_to_500, table.across_to_500);
    merge(brand.across_to_100, table.across_to_100);
    merge(brand.ridge_to_500, table.ridge_to_500);
    merge(brand.ridge_to_100, table.ridge_to_100);
  }
  for (const PointScore& point : table.points) {
    table.largest_in_fit = std::max(table.largest_in_fit, std::abs(point.in_fit));
    table.largest_out_of_fit = std::max(table.largest_out_of_fit, std::abs(point.out_of_fit));
  }
}

}  // namespace

void ErrorSum::add(double relative_error) {
  sum += std::abs(relative_error);
  signed_sum += relative_error;
  largest = std::max(largest, std::abs(relative_error));
  ++count;
}

AccuracyTable score(const std::vector<PublishedCell>& cells, const ScoreOptions& options) {
  AccuracyTable table;
  std::vector<PublishedCell> pairs;
  std::copy_if(cells.begin(), cells.end(), std::back_inserter(pairs), has_both_loads);
  const int parts = static_cast<int>(pairs.size() + cells.size());
  int done = 0;
  const auto part_done = [&] {
    if (options.progress) options.progress(++done, parts);
  };
  const std::set<int> common_100 = common_cutoffs(pairs, 100), common_500 = common_cutoffs(pairs, 500);
  for (const PublishedCell& cell : pairs) {
    BrandScore brand;
    brand.id = cell.id;
    score_fitted(cell, brand);
    score_across(cell, learn_prior(learnable(cells, cell.brand), {}), common_100, brand);
    table.brands.push_back(brand);
    part_done();
  }
  if (pairs.size() >= 5) {
    const Eigen::MatrixXd at_100 = log_hours(pairs, 100, common_100), at_500 = log_hours(pairs, 500, common_500);
    score_ridge(at_100, at_500, table.brands, &BrandScore::ridge_to_500);
    score_ridge(at_500, at_100, table.brands, &BrandScore::ridge_to_100);
  }
  for (const PublishedCell& cell : cells) {
    score_points(
        cell, [&] { return learn_prior(learnable(cells, cell.brand), {}); }, table);
    part_done();
  }
  add_up(table);
  return table;
}

}  // namespace cellarer::cell
