// SPDX-License-Identifier: MIT
#include "model/cell/peukert.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace cellarer::cell {

namespace {

struct Sum {
  double log_hours = 0;
  int count = 0;
};

PeukertCutoff between_neighbours(double cutoff_V, const std::map<double, Sum>& by_current) {
  PeukertCutoff result;
  result.cutoff_V = cutoff_V;
  for (const auto& [current, sum] : by_current) {
    result.loads.push_back({current, std::exp(sum.log_hours / sum.count)});
  }
  for (std::size_t i = 0; i + 1 < result.loads.size(); ++i) {
    const LoadPoint &a = result.loads[i], &b = result.loads[i + 1];
    const double exponent = std::log(a.hours / b.hours) / std::log(b.current_mA / a.current_mA);
    result.ranges.push_back(
        {a.current_mA, b.current_mA, exponent, std::log(a.hours) + exponent * std::log(a.current_mA)});
  }
  return result;
}

}  // namespace

double mean_current_mA(const Load& load, double cutoff_V) {
  const double mean_V = 0.5 * (1.6 + cutoff_V) - 0.05;  // the steep start is short: a little below the middle
  switch (load.kind) {
    case LoadKind::current:
      return load.value;
    case LoadKind::resistance:
      return 1e3 * mean_V / load.value;
    case LoadKind::power:
      break;
  }
  return load.value / mean_V;
}

Peukert peukert(const PublishedCell& cell) {
  std::map<long, std::map<double, Sum>, std::greater<>> by_cutoff;  // key: millivolts
  for (const Discharge& row : cell.discharges) {
    if (row.regimen || row.temperature_C < 15 || row.temperature_C > 30) continue;
    const double current = mean_current_mA(row.load, row.cutoff_V);
    Sum& sum = by_cutoff[std::lround(1e3 * row.cutoff_V)][current];
    sum.log_hours += std::log(row.hours ? *row.hours : *row.capacity_mAh / current);
    ++sum.count;
  }
  Peukert law;
  for (const auto& [millivolts, by_current] : by_cutoff) {
    law.cutoffs.push_back(between_neighbours(1e-3 * static_cast<double>(millivolts), by_current));
  }
  return law;
}

std::optional<PeukertAnswer> peukert_hours(const Peukert& law, double current_mA, double cutoff_V) {
  for (const PeukertCutoff& at : law.cutoffs) {
    if (std::abs(at.cutoff_V - cutoff_V) > 0.005 || at.ranges.empty()) continue;
    const PeukertRange* range = &at.ranges.front();
    for (const PeukertRange& candidate : at.ranges) {
      if (current_mA >= candidate.from_mA) range = &candidate;
    }
    const bool inside = current_mA >= at.loads.front().current_mA && current_mA <= at.loads.back().current_mA;
    return PeukertAnswer{std::exp(range->log_hours_1mA - range->exponent * std::log(current_mA)), range->exponent,
                         inside};
  }
  return std::nullopt;
}

}  // namespace cellarer::cell
