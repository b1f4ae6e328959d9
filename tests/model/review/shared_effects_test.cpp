// SPDX-License-Identifier: MIT
// What homes say together of a lot or a unit: held against the joint normal density of all their sets, written out.
#include "model/review/shared_effects.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

const Instant start = date::sys_days(date::year(2026) / 1 / 1);

/// A home with three sets a side in its own unit and two in the one that moved, of a lot that others have too.
std::vector<SetRecord> home_with_moved_unit(const std::string& name, double excess) {
  std::vector<SetRecord> records;
  for (int k = 0; k < 10; ++k) {
    SetRecord record;
    record.household = name;
    record.side = k % 2 == 0 ? Side::left : Side::right;
    record.from = start + 24h * 6 * k;
    record.to = start + 24h * 6 * (k + 2);
    const bool moved = k >= 6;
    record.unit = moved ? "moved" : name + "-unit";
    record.stimulator = "invented";
    record.cell_type = "lr6";
    record.lot = moved ? "shared" : name + "-lot";
    record.observed = ObservedUse{(k % 3 - 1) * 0.02 + (moved ? excess : 0), 0.03, -0.0125 - 0.001 * k, 0.8, 3};
    records.push_back(record);
  }
  return records;
}

struct Homes {
  Spreads spreads;
  std::vector<std::vector<Row>> rows;

  Homes() {
    for (const auto& records : {home_with_moved_unit("h-1", 0.12), home_with_moved_unit("h-2", 0.17)})
      rows.push_back(rows_of(records, {}, spreads));
  }
  SharedSums sums(const SharedKind& kind) const {
    SharedRows shared;
    for (std::size_t h = 0; h < rows.size(); ++h) collect(shared, kind, rows[h], Whitened(rows[h], spreads), h);
    SharedSums sums(kind);
    for (const auto& row : shared.at(kind.is_lot ? "shared" : "moved")) sums.add(row);
    return sums;
  }
  /// All rows at once; the effects that homes share of `kind` are theirs in common.
  Eigen::MatrixXd covariance_of_all(const SharedKind& kind) const {
    const auto each = static_cast<Eigen::Index>(rows[0].size());
    Eigen::MatrixXd cov = Eigen::MatrixXd::Zero(2 * each, 2 * each);
    for (Eigen::Index i = 0; i < 2 * each; ++i) {
      for (Eigen::Index j = 0; j < 2 * each; ++j) {
        const auto &a = row(i), &b = row(j);
        if (i / each == j / each)
          cov(i, j) = covariance(a, b, spreads, start);
        else if (is_shared(kind, a) && is_shared(kind, b))
          cov(i, j) = kind.loading(a).dot(kind.natural * kind.loading(b));
      }
      cov(i, i) += spreads.set * spreads.set + row(i).standard_error * row(i).standard_error;
    }
    return cov;
  }
  const Row& row(Eigen::Index i) const {
    const auto each = rows[0].size(), at = static_cast<std::size_t>(i);
    return rows[at / each][at % each];
  }
  static bool is_shared(const SharedKind& kind, const Row& row) {
    return kind.name_in(row) == (kind.is_lot ? "shared" : "moved");
  }
};

double log_density(const Eigen::VectorXd& value, const Eigen::MatrixXd& cov) {
  return -0.5 * (value.dot(cov.inverse() * value) + std::log(cov.determinant()) +
                 static_cast<double>(value.size()) * std::log(2 * std::numbers::pi));
}

}  // namespace

TEST_CASE("natural effects taken out of the noise and put back: Woodbury's identity") {
  Eigen::MatrixXd effects(5, 2);
  effects << 1, 0, 1, 0.3, 0, 1, 0.5, -1, 1, 1;
  Eigen::VectorXd seen(5);
  seen << 0.1, -0.2, 0.05, 0.3, 0.12;
  const Eigen::MatrixXd noise = Eigen::VectorXd::LinSpaced(5, 0.01, 0.05).asDiagonal();
  JointSums::Square natural(2, 2);
  natural << 0.04, 0.01, 0.01, 0.02;
  const Eigen::MatrixXd with = (noise + effects * natural * effects.transpose()).inverse();
  const Eigen::MatrixXd without = noise.inverse();
  const JointSums noisy{effects.transpose() * with * effects, effects.transpose() * with * seen};
  const JointSums free{effects.transpose() * without * effects, effects.transpose() * without * seen};
  CHECK(without_natural(noisy, natural).square.isApprox(free.square, 1e-9));
  CHECK(without_natural(noisy, natural).product.isApprox(free.product, 1e-9));
  CHECK(with_natural(free, natural).square.isApprox(noisy.square, 1e-9));
  CHECK(with_natural(free, natural).product.isApprox(noisy.product, 1e-9));
}

TEST_CASE("homes that share a unit or a lot share its natural effects: the ratio of the two joint densities") {
  const Homes homes;
  const Size fault{0.12, 0.05};
  for (const auto& kind : {lots_as_shared(homes.spreads), units_as_shared(homes.spreads)}) {
    const auto cov = homes.covariance_of_all(kind);
    const auto seen = with_natural(homes.sums(kind).total(), kind.natural);
    for (const auto& way : kind.ways) {
      Eigen::VectorXd value(cov.rows()), pattern = Eigen::VectorXd::Zero(cov.rows());
      for (Eigen::Index i = 0; i < cov.rows(); ++i) {
        value[i] = homes.row(i).value;
        if (Homes::is_shared(kind, homes.row(i))) pattern[i] = kind.loading(homes.row(i)).dot(way.moves);
      }
      const double with_fault =
          log_density(value - fault.mean * pattern, cov + fault.sd * fault.sd * pattern * pattern.transpose());
      CHECK(log_bayes_factor(seen.along(way.moves), fault) == Approx(with_fault - log_density(value, cov)));
    }
  }
}

TEST_CASE("what is believed of shared effects is the conditional normal distribution") {
  // Anderson, An Introduction to Multivariate Statistical Analysis, theorem 2.5.1: of effects given sets.
  const Homes homes;
  const auto kind = units_as_shared(homes.spreads);
  const auto cov = homes.covariance_of_all(kind);
  Eigen::MatrixXd across(4, cov.rows());
  Eigen::VectorXd value(cov.rows());
  for (Eigen::Index i = 0; i < cov.rows(); ++i) {
    value[i] = homes.row(i).value;
    across.col(i).setZero();
    if (Homes::is_shared(kind, homes.row(i))) across.col(i) = kind.natural * kind.loading(homes.row(i));
  }
  const Eigen::MatrixXd gain = across * cov.inverse();
  const auto belief = posterior_effects(homes.sums(kind).total(), {JointSums::Product::Zero(4), kind.natural});
  CHECK(belief.mean.isApprox(JointSums::Product(gain * value), 1e-6));
  CHECK(belief.cov.isApprox(JointSums::Square(kind.natural - gain * across.transpose()), 1e-6));
}
