// SPDX-License-Identifier: MIT
// What a set's hypotheses say of its gauge: the warning to come, the chart, and what one more reading would tell.
#include <algorithm>
#include <cmath>

#include "model/life/gauge.hpp"
#include "model/life/set_posterior.hpp"
#include "model/quantities/square.hpp"

namespace cellarer::life {

/// The charge at which the pacing voltage has come down to that, in the set's first phase; within its life.
double SetPosterior::charge_at_pacing_V(const Node& node, double volts) const {
  const auto& table = *tables_.front();
  const auto& level = levels_[node.use];
  const auto at = [&](std::size_t index) { return table.pacing_V(CurvePlace{index, 0}, level); };
  constexpr std::size_t last = LoadTable::points - 1;
  if (at(0) <= volts) return 0;
  if (table.pacing_V(CurvePlace{last - 1, 1}, level) > volts) return node.cutoff_mAh;
  std::size_t index = 0, after = last;  // above it at the one, not at the other
  while (after - index > 1) {
    const auto middle = (index + after) / 2;
    (at(middle) > volts ? index : after) = middle;
  }
  const double here = at(index), next = table.pacing_V(CurvePlace{index, 1}, level);
  const CurvePlace place{index, (here - volts) / (here - next)};
  const double way = scales_[node.scale].travelled(place.depth()) - way_at_phase_[node.way];
  return std::clamp(way * node.capacity_mAh / use_in_phase(node, 0), 0.0, node.cutoff_mAh);
}

CrossingDistribution SetPosterior::warning() const {
  std::vector<Crossing> crossings;
  crossings.reserve(nodes_.size());
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const auto& node = nodes_[k];
    // A warning sounds late in a set's life.
    const double weight = node.weight, bias = noise_.mean(k, 0),
                 offset_V = noise_.mean(k, 2) + tilt_at(1) * noise_.mean(k, 3);
    // What matters of a warning is when to expect it, not its far tail.
    if (weight < 1e-7) continue;
    const auto& unit = *setup_.course->phases()[setup_.course->phase_at(node.cutoff_mAh)].unit;
    const auto shown = [&](double charge) {
      const double volts = pacing_V(node, moment(setup_.course->phase_at(charge), charge)) + offset_V;
      return gauge_percent(unit.gauge, volts) + bias;
    };
    double low = 0;
    if (setup_.course->phase_at(node.cutoff_mAh) == 0) {
      low = charge_at_pacing_V(node, gauge_volts(unit.gauge, unit.warning_percent - bias) - offset_V);
    } else {  // through several loads: by halving
      double high = node.cutoff_mAh;
      for (int i = 0; i < 24; ++i) {
        const double middle = 0.5 * (low + high);
        (shown(middle) > unit.warning_percent ? low : high) = middle;
      }
    }
    // The gauge's fall about the crossing [points per mAh], by a difference that stays inside the set's life.
    const double step = 0.01 * node.cutoff_mAh + 1e-9;
    const double from = std::max(low - step, 0.0);
    const double fall = std::max((shown(from) - shown(from + 2 * step)) / (2 * step), 1e-6);
    const double points = std::sqrt(noise_.cov(k, 0, 0) + square(noise_model_.wander_points));
    // The gauge's error moves the warning within the set's life, not beyond it.
    const double error = std::min(points / fall, 0.25 * node.cutoff_mAh);
    crossings.push_back({low, std::hypot(error, blur_mAh(low)), weight});
  }
  return CrossingDistribution(std::move(crossings), 0);
}

SetPosterior::Gauge SetPosterior::gauge_at(double charge_mAh) const {
  return gauge_at(std::vector{charge_mAh}).front();
}

std::vector<SetPosterior::Gauge> SetPosterior::gauge_at(const std::vector<double>& charges_mAh) const {
  struct Asked {
    const Node* node;
    double bias, offset_V, tilt_V, variance;
    double offset_2, tilt_2, offset_tilt, bias_offset, bias_tilt;  ///< covariances
  };
  std::vector<Asked> asked;
  double told = 0;  // what those weigh together that are asked
  asked.reserve(nodes_.size());
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    if (nodes_[k].weight < 1e-5) continue;
    told += nodes_[k].weight;
    asked.push_back({&nodes_[k], noise_.mean(k, 0), noise_.mean(k, 2), noise_.mean(k, 3),
                     noise_.cov(k, 0, 0) + square(noise_model_.wander_points), noise_.cov(k, 2, 2), noise_.cov(k, 3, 3),
                     noise_.cov(k, 2, 3), noise_.cov(k, 0, 2), noise_.cov(k, 0, 3)});
  }
  std::vector<Gauge> gauges;
  gauges.reserve(charges_mAh.size());
  for (const double charge_mAh : charges_mAh) {
    double mean = 0, mean_square = 0;
    const auto phase = setup_.course->phase_at(charge_mAh);
    const auto at = moment(phase, charge_mAh);
    const GaugeLines gauge(setup_.course->phases()[phase].unit->gauge);
    for (const auto& one : asked) {
      const auto [volts, tilt] = paced(*one.node, at);
      const auto [percent, slope] = gauge.shown(volts);
      const double shown = percent + one.bias + slope * (one.offset_V + tilt * one.tilt_V);
      const double of_voltage = one.offset_2 + tilt * (2 * one.offset_tilt + tilt * one.tilt_2);
      const double spread = one.variance + slope * (slope * of_voltage + 2 * (one.bias_offset + tilt * one.bias_tilt));
      mean += one.node->weight * shown;
      mean_square += one.node->weight * (square(shown) + std::max(spread, 0.0));
    }
    mean /= told;
    mean_square /= told;
    gauges.push_back({mean, std::sqrt(std::max(mean_square - square(mean), 0.0))});
  }
  return gauges;
}

SetPosterior::WorthOfReading SetPosterior::worth_of_reading(double charge_mAh) const {
  const auto shown = gauge_at(charge_mAh);
  const auto phase = setup_.course->phase_at(charge_mAh);
  const auto& gauge = setup_.course->phases()[phase].unit->gauge;
  const GaugeLines lines(gauge);
  const auto at = moment(phase, charge_mAh);
  double end = 0, end_square = 0, blur = 0, together = 0;
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const auto& node = nodes_[k];
    const double weight = node.weight;
    if (weight < 1e-6) continue;
    const auto [volts, tilt] = paced(node, at);
    const auto [percent, slope] = lines.shown(volts);
    const double offset_V = noise_.mean(k, 2) + tilt * noise_.mean(k, 3);
    const double expected = percent + noise_.mean(k, 0) + slope * offset_V;
    end += weight * node.cutoff_mAh;
    end_square += weight * square(node.cutoff_mAh);
    blur += weight * square(node.cutoff_sd_mAh);
    together += weight * node.cutoff_mAh * expected;
  }
  const double variance = std::max(end_square - square(end), 0.0) + blur;
  // A gauge of N steps tells no more than its steps are fine: 100 / N points, spread evenly.
  const double steps = gauge.steps ? square(100.0 / *gauge.steps) / 12 : 0;
  const double covariance = together - end * shown.mean;
  const double told = square(covariance) / std::max(square(shown.sd) + steps, 1e-9);
  return {std::sqrt(variance), std::sqrt(std::max(variance - told, 0.0))};
}

}  // namespace cellarer::life
