// SPDX-License-Identifier: MIT
#include "model/stock/pmf.hpp"

#include <cassert>

namespace cellarer::stock {
namespace {

constexpr double rounding = 1e-12;
constexpr double negligible = 1e-18;

}  // namespace

int first_day_reaching(const std::vector<double>& cumulated, double level) {
  for (std::size_t day = 0; day < cumulated.size(); ++day) {
    if (cumulated[day] >= level - rounding) return static_cast<int>(day);
  }
  return static_cast<int>(cumulated.size());
}

int smallest_covering(const CountPmf& pmf, double level) {
  assert(level > 0 && level < 1);
  double sum = 0;
  for (std::size_t n = 0; n < pmf.size(); ++n) {
    sum += pmf[n];
    if (sum >= level - rounding) return static_cast<int>(n);
  }
  return static_cast<int>(pmf.size());
}

double probability_above(const CountPmf& pmf, long long n) {
  // Summed from the small end, so that a tail of 1e-9 is not lost in the rounding of 1 minus nearly 1.
  double sum = 0;
  for (auto k = static_cast<long long>(pmf.size()) - 1; k > n && k >= 0; --k) sum += pmf[static_cast<std::size_t>(k)];
  return sum;
}

CountPmf sum_of(const CountPmf& a, const CountPmf& b) {
  if (a.empty() || b.empty()) return a.empty() ? b : a;
  CountPmf total(a.size() + b.size() - 1, 0.0);
  // After months the small counts are impossible: skipping them on both sides is most of the saving.
  std::size_t from = 0, to = b.size();
  while (from < to && b[from] < negligible) ++from;
  while (to > from && b[to - 1] < negligible) --to;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i] < negligible) continue;
    for (std::size_t j = from; j < to; ++j) total[i + j] += a[i] * b[j];
  }
  return total;
}

}  // namespace cellarer::stock
