// SPDX-License-Identifier: MIT
#include "model/review/shared_effects.hpp"

#include <set>

namespace cellarer::review {

namespace {

JointSums::Product effects(std::initializer_list<double> values) {
  JointSums::Product product(static_cast<Eigen::Index>(values.size()));
  std::copy(values.begin(), values.end(), product.begin());
  return product;
}

}  // namespace

JointSums::Product SharedKind::loading(const Row& row) const {
  if (is_lot) return effects({row.check ? 0.0 : 1.0});
  const double use = !row.check || row.check == Check::What::bench_current ? 1 : 0;
  const double bias = row.check ? 0 : row.bias_loading;
  return row.side == Side::left ? effects({use, 0, bias, 0}) : effects({0, use, 0, bias});
}

SharedKind lots_as_shared(const Spreads& spreads) {
  SharedKind kind;
  kind.natural = JointSums::Square::Constant(1, 1, spreads.lot * spreads.lot);
  kind.ways = {{Scope::both, effects({1}), effects({1}), 1}};
  return kind;
}

SharedKind units_as_shared(const Spreads& spreads) {
  SharedKind kind;
  kind.is_lot = false;
  const double use = spreads.channel * spreads.channel, bias = spreads.gauge_bias_points * spreads.gauge_bias_points;
  kind.natural = effects({use, use, bias, bias}).asDiagonal();
  // As in a home's own stories (hypotheses.cpp): either side, or both, are alike probable.
  constexpr double share = 1.0 / 3;
  kind.ways = {{Scope::both, effects({1, 1, 0, 0}), effects({0.5, 0.5, 0, 0}), share},
               {Scope::left, effects({1, 0, 0, 0}), effects({1, 0, 0, 0}), share},
               {Scope::right, effects({0, 1, 0, 0}), effects({0, 1, 0, 0}), share}};
  return kind;
}

void collect(SharedRows& subjects, const SharedKind& kind, const std::vector<Row>& rows, const Whitened& whitened,
             std::size_t household) {
  std::set<std::string> names;
  for (const auto& row : rows) {
    if (!row.check && !kind.name_in(row).empty()) names.insert(kind.name_in(row));
  }
  const auto effect_count = kind.natural.rows();
  for (const auto& name : names) {
    Eigen::MatrixXd along(whitened.size(), effect_count);
    for (Eigen::Index i = 0; i < whitened.size(); ++i) {
      const auto& row = rows[static_cast<std::size_t>(i)];
      if (kind.name_in(row) == name)
        along.row(i) = kind.loading(row).transpose();
      else
        along.row(i).setZero();
    }
    for (Eigen::Index k = 0; k < effect_count; ++k) along.col(k) = whitened.whiten(along.col(k));
    auto& kept = subjects[name];
    for (Eigen::Index i = 0; i < whitened.size(); ++i) {
      if (along.row(i).isZero(0)) continue;
      const auto& row = rows[static_cast<std::size_t>(i)];
      kept.push_back({row.at, row.from, household, !row.check && kind.name_in(row) == name,
                      JointSums::Product(along.row(i).transpose()), whitened.surprise()[i]});
    }
  }
}

SharedSums::SharedSums(const SharedKind& kind) : kind_(&kind), total_(kind.natural.rows()) {}

void SharedSums::add(const SharedRow& row) {
  const auto count = kind_->natural.rows();
  auto& home = homes_.try_emplace(row.household, Home{JointSums(count), JointSums(count)}).first->second;
  home.whitened += {row.along * row.along.transpose(), row.along * row.surprise};
  total_ -= home.free;
  home.free = without_natural(home.whitened, kind_->natural);
  total_ += home.free;
}

JointSums SharedSums::elsewhere(std::size_t household) const {
  JointSums sums(kind_->natural.rows());
  for (const auto& [home, of_home] : homes_) {
    if (home != household) sums += of_home.free;
  }
  return sums;
}

}  // namespace cellarer::review
