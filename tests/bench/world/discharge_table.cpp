// SPDX-License-Identifier: MIT
#include "tests/bench/world/discharge_table.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "model/cell/score_rows.hpp"

namespace cellarer::bench {

namespace {

constexpr double low_mA = 100, high_mA = 500;

/// Hours by cut-off in hundredths of a volt, at one current.
std::map<int, double> hours_of(const cell::PublishedCell& cell, const std::string& specimen, double current_mA) {
  std::map<int, double> hours;
  for (const auto& row : cell.discharges) {
    if (row.specimen == specimen && row.hours && cell::is_current(row, current_mA))
      hours[cell::centivolts(row.cutoff_V)] = *row.hours;
  }
  return hours;
}

}  // namespace

DischargeTable::DischargeTable(const cell::PublishedCell& cell, const std::string& specimen,
                               double exponent_below_100_mA)
    : exponent_(exponent_below_100_mA) {
  const auto slow = hours_of(cell, specimen, low_mA), fast = hours_of(cell, specimen, high_mA);
  if (slow.size() < 4 || fast.empty()) {
    throw std::runtime_error(cell.id + " has no specimen " + specimen + " at 100 and 500 mA");
  }
  levels_.push_back({fresh_V, 0, 0});
  for (auto row = slow.rbegin(); row != slow.rend(); ++row) {
    const double charge = low_mA * row->second;
    // The nearest level that was measured at 500 mA lends its ratio to those that were not.
    auto lender = fast.lower_bound(row->first);
    if (lender == fast.end()) --lender;
    const auto same = slow.find(lender->first);
    const double ratio = same == slow.end() ? 0.5 : high_mA * lender->second / (low_mA * same->second);
    levels_.push_back({0.01 * row->first, charge, charge * ratio});
  }
  take_slopes();
}

DischargeTable::DischargeTable(const DischargeTable& a, const DischargeTable& b, double spread)
    : exponent_(a.exponent_ + spread * (b.exponent_ - a.exponent_)) {
  levels_.push_back({fresh_V, 0, 0});
  const auto between = [spread](double at_a, double at_b) { return at_a * std::pow(at_b / at_a, spread); };
  for (std::size_t i = 1, j = 1; i < a.levels_.size() && j < b.levels_.size();) {
    const Level &from = a.levels_[i], &to = b.levels_[j];
    if (from.volts == to.volts) {
      Level level{to.volts, between(from.charge_100_mAh, to.charge_100_mAh),
                  between(from.charge_500_mAh, to.charge_500_mAh)};
      // A doubled difference of two early levels must not turn them round.
      level.charge_100_mAh = std::max(level.charge_100_mAh, levels_.back().charge_100_mAh + 1e-3);
      level.charge_500_mAh = std::max(level.charge_500_mAh, levels_.back().charge_500_mAh + 1e-3);
      levels_.push_back(level);
    }
    if (from.volts >= to.volts) ++i;
    if (from.volts <= to.volts) ++j;
  }
  take_slopes();
}

void DischargeTable::take_slopes() {
  const std::size_t count = levels_.size();
  std::vector<double> width(count - 1), secant(count - 1);
  for (std::size_t i = 0; i + 1 < count; ++i) {
    width[i] = levels_[i + 1].volts - levels_[i].volts;
    secant[i] = (levels_[i + 1].charge_100_mAh - levels_[i].charge_100_mAh) / width[i];
  }
  slope_.assign(count, 0);
  slope_.front() = secant.front();
  slope_.back() = secant.back();
  for (std::size_t i = 1; i + 1 < count; ++i) {
    const double w1 = 2 * width[i] + width[i - 1], w2 = width[i] + 2 * width[i - 1];
    slope_[i] = (w1 + w2) / (w1 / secant[i - 1] + w2 / secant[i]);  // both secants fall: never nought
  }
}

double DischargeTable::charge_100_mAh(double volts) const {
  if (volts >= fresh_V) return 0;
  if (volts <= lowest_V()) return levels_.back().charge_100_mAh;
  std::size_t i = 0;
  while (volts < levels_[i + 1].volts) ++i;
  const double width = levels_[i + 1].volts - levels_[i].volts;
  const double t = (volts - levels_[i].volts) / width, s = 1 - t;
  return (1 + 2 * t) * s * s * levels_[i].charge_100_mAh + t * s * s * width * slope_[i] +
         t * t * (3 - 2 * t) * levels_[i + 1].charge_100_mAh - t * t * s * width * slope_[i + 1];
}

double DischargeTable::exponent_above(double volts) const {
  const auto at = [this](std::size_t i) {
    const Level& level = levels_[std::max<std::size_t>(i, 1)];
    return 1 + std::log(level.charge_100_mAh / level.charge_500_mAh) / std::log(high_mA / low_mA);
  };
  const double held = std::clamp(volts, lowest_V(), fresh_V);
  std::size_t i = 0;
  while (i + 2 < levels_.size() && held < levels_[i + 1].volts) ++i;
  const double share = (held - levels_[i].volts) / (levels_[i + 1].volts - levels_[i].volts);
  return at(i) + share * (at(i + 1) - at(i));
}

double DischargeTable::exponent(double volts, double current_mA) const {
  if (current_mA < lowest_mA) return 1;
  return current_mA <= low_mA ? exponent_ : exponent_above(volts);
}

double DischargeTable::charge_mAh(double volts, double current_mA) const {
  const double held_mA = std::max(current_mA, lowest_mA);
  return charge_100_mAh(volts) * std::pow(low_mA / held_mA, exponent(volts, held_mA) - 1);
}

double DischargeTable::volts(double charge_mAh, double current_mA, double near_V) const {
  constexpr double small_V = 1e-4, near_enough_V = 1e-7;
  double volts = near_V;
  for (int step = 0; step < 8; ++step) {
    const double here = this->charge_mAh(volts, current_mA);
    const double fall = (this->charge_mAh(volts - small_V, current_mA) - here) / small_V;
    const double move = (here - charge_mAh) / std::max(fall, 1.0);
    volts = std::clamp(volts + move, lowest_V() + small_V, fresh_V);
    if (std::abs(move) < near_enough_V) break;
  }
  return volts;
}

}  // namespace cellarer::bench
