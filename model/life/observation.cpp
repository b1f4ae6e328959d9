// SPDX-License-Identifier: MIT
#include "model/life/observation.hpp"

#include <cmath>
#include <limits>
#include <numeric>

#include "model/life/gauge.hpp"

namespace cellarer::life {

namespace {

constexpr double percent_white_sd = 1.0;
constexpr double voltmeter_white_sd_V = 0.015;

Observation on_the_gauge(const Reading& reading, PercentSpan span) {
  Observation observation{reading.at, reading.condition};
  observation.low = span.low;
  observation.high = span.high;
  observation.white_sd = percent_white_sd;
  return observation;
}

Observation by_voltmeter(const Reading& reading, double set_V) {
  Observation observation{reading.at, reading.condition, Observation::Scale::volts};
  observation.low = observation.high = set_V;
  observation.white_sd = voltmeter_white_sd_V;
  return observation;
}

/// Each kind of reading as an observation; the visitor's overloads are the table.
struct ToObservation {
  const Reading& reading;
  const duty::Stimulator& unit;

  std::optional<Observation> operator()(const PercentShown& shown) const {
    auto observation = on_the_gauge(reading, span_of_percent(shown.percent));
    const bool inside = std::isfinite(observation.low) && std::isfinite(observation.high);
    if (inside) observation.low = observation.high = shown.percent;
    return observation;
  }
  std::optional<Observation> operator()(const StepShown& shown) const {
    return on_the_gauge(reading, span_of_step(shown.step, shown.of));
  }
  std::optional<Observation> operator()(const SetVolts& seen) const { return by_voltmeter(reading, seen.volts); }
  std::optional<Observation> operator()(const CellVolts& seen) const {
    const double sum = std::accumulate(seen.volts.begin(), seen.volts.end(), 0.0);
    return by_voltmeter(reading, sum * unit.cells_in_series / static_cast<double>(seen.volts.size()));
  }
  std::optional<Observation> operator()(const WarningSounded&) const {
    auto observation = on_the_gauge(reading, {-std::numeric_limits<double>::infinity(), unit.warning_percent});
    observation.condition = Condition::pacing;
    observation.warning = true;
    return observation;
  }
  std::optional<Observation> operator()(const SideStopped&) const { return std::nullopt; }
};

}  // namespace

std::optional<Observation> observation_of(const Reading& reading, const duty::Stimulator& unit) {
  const bool shown_by_gauge =
      std::holds_alternative<PercentShown>(reading.value) || std::holds_alternative<StepShown>(reading.value);
  auto observation = std::visit(ToObservation{reading, unit}, reading.value);
  if (observation && shown_by_gauge && unit.gauge.latches) observation->condition = Condition::pacing;
  if (observation && shown_by_gauge && reading.condition == Condition::just_on && unit.gauge.reads_high_after_on) {
    // What reads high just after switching on is a bound from above: low, it is as true as any.
    const auto span = std::holds_alternative<PercentShown>(reading.value)
                          ? span_of_percent(std::get<PercentShown>(reading.value).percent)
                          : PercentSpan{observation->low, observation->high};
    observation->low = -std::numeric_limits<double>::infinity();
    observation->high = span.high;
    if (std::isinf(span.high)) return std::nullopt;
  }
  return observation;
}

}  // namespace cellarer::life
