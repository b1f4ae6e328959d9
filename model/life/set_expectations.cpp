// SPDX-License-Identifier: MIT
// What a set's hypotheses expect of a reading, each by itself.
#include <vector>

#include "model/duty/set_voltage.hpp"
#include "model/life/gauge.hpp"
#include "model/life/set_posterior.hpp"
#include "model/quantities/square.hpp"

namespace cellarer::life {

double SetPosterior::unpaced_V(const Node& node, const Moment& at, Condition condition) const {
  const auto& unit = *setup_.course->phases()[at.phase].unit;
  const auto& curve = setup_.cell->curve;
  const double depth = place_at(node, at).depth();
  const double relative_use = use_in_phase(node, at.phase);
  const auto side = setup_.course->side();
  switch (condition) {
    case Condition::idle:
      return duty::idle_V(unit, side, curve, relative_use, depth);
    case Condition::just_on:
      return duty::just_on_V(unit, side, curve, relative_use, depth);
    case Condition::pacing:
    case Condition::off:
      break;
  }
  return duty::off_V(unit, side, curve, relative_use, depth);
}

void SetPosterior::expect_on_gauge(const Observation& observation, std::size_t phase, double charge_mAh) {
  const auto at = moment(phase, charge_mAh);
  const GaugeLines gauge(setup_.course->phases()[phase].unit->gauge);
  const double read_variance = square(observation.white_sd), form_V = form_sd_V(phase);
  struct Expected {
    double way;  ///< along the curve
    double percent, slope, tilt, variance;
  };
  const auto expected = [&](double way, double volts, double tilt) {
    const auto [percent, slope] = gauge.shown(volts);
    return Expected{way, percent, slope, slope * tilt, read_variance + square(slope * form_V)};
  };
  const auto expect = [&](std::size_t k, const Expected& one) {
    noise_.expect(k, one.percent, one.slope, one.tilt, one.variance);
  };
  if (observation.condition != Condition::pacing) {
    for (std::size_t k = 0; k < nodes_.size(); ++k) {
      const auto [volts, tilt] = set_V(nodes_[k], at, observation.condition);
      expect(k, expected(0, volts, tilt));
    }
    return;
  }
  // As `paced` says it, with what all of them share looked up once. Up to where the stretch begins all capacities are
  // at one place: what the hypothesis of the same use found last is found again.
  constexpr double nowhere = -1;
  std::vector<Expected> last(uses_.size(), Expected{nowhere, 0, 0, 0, 0});
  const auto& table = *tables_[phase];
  const auto* levels = &levels_[phase * uses_.size()];
  const double* lives_per_depth = &lives_per_depth_[phase * uses_.size()];
  const double* way_at_phase = way_at_phase_.data() + phase;
  const auto* scales = scales_.data() + phase;
  const double* uses = uses_.data();
  const double drawn_mAh = at.since_mAh * at.use_factor, one_place_until = table.bend().from;
  const std::size_t count = nodes_.size();
  const Node* node = nodes_.data();
  for (std::size_t k = 0; k < count; ++k, ++node) {
    const auto use = node->use;
    const double way = way_at_phase[node->way] + drawn_mAh * uses[use] / node->capacity_mAh;
    auto& one = last[use];
    if (one.way != way || way > one_place_until) {
      const auto place = scales[node->scale].place(way);
      one = expected(way, table.pacing_V(place, levels[use]), tilt_at(place.depth() * lives_per_depth[use]));
    }
    expect(k, one);
  }
}

void SetPosterior::expect_volts(const Observation& observation, std::size_t phase, double charge_mAh) {
  // Near its end a curve's form is unsure along the charge rather than in volts. On a gauge the noise drowns it.
  const double step = 0.01 * charge_mAh, along = setup_.cell->spread.curve_charge_log_sd;
  const auto at = moment(phase, charge_mAh), before = moment(phase, charge_mAh - step),
             after = moment(phase, charge_mAh + step);
  const double read_variance = square(observation.white_sd) + square(form_sd_V(phase));
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    const auto& node = nodes_[k];
    const auto of = [&](const Moment& moment) { return set_V(node, moment, observation.condition); };
    const double fall_V = of(before).volts - of(after).volts;
    const auto [volts, tilt] = of(at);
    noise_.expect(k, volts, 1, tilt, read_variance + square(along * fall_V / 0.02));
  }
}

}  // namespace cellarer::life
