// SPDX-License-Identifier: MIT
#include "model/review/evidence.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace cellarer::review {

Sums& Sums::operator+=(const Sums& other) {
  square += other.square;
  product += other.product;
  return *this;
}

double log_bayes_factor(const Sums& sums, const Size& prior) {
  const double precision = 1 / (prior.sd * prior.sd);
  const double pull = sums.product + prior.mean * precision;
  return 0.5 * (pull * pull / (sums.square + precision) - prior.mean * prior.mean * precision -
                std::log1p(sums.square / precision));
}

Size posterior_size(const Sums& sums, const Size& prior) {
  const double precision = 1 / (prior.sd * prior.sd) + sums.square;
  return {(sums.product + prior.mean / (prior.sd * prior.sd)) / precision, 1 / std::sqrt(precision)};
}

double log_sum(const std::vector<double>& logs) {
  if (logs.empty()) return -std::numeric_limits<double>::infinity();
  const double highest = *std::max_element(logs.begin(), logs.end());
  if (!std::isfinite(highest)) return highest;
  double sum = 0;
  for (const double one : logs) sum += std::exp(one - highest);
  return highest + std::log(sum);
}

}  // namespace cellarer::review
