// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <memory>

#include "model/life/forecast.hpp"

/// What the field trial asks of a forecaster, ours or a peer: it is told what people record, and asked each evening.
namespace cellarer::bench {

/// One household's forecaster. It is told of records in the order in which they were recorded, which need not be the
/// order in which they happened.
class Forecaster {
 public:
  virtual ~Forecaster() = default;

  virtual void recorded(const life::CellChange& change) = 0;
  virtual void recorded(const life::Reading& reading) = 0;
  virtual void recorded(const duty::Settings& settings) = 0;
  virtual void recorded(const duty::PacedInstead& instead) = 0;
  virtual void recorded(const life::UnitInUse& unit) = 0;

  /// At a changing time, all that was recorded by then being known: should this side's cells be changed now?
  virtual bool advises_change(Side side, Instant at) = 0;

  /// Probability that the side's cells reach cut-off by `when`, as believed at `at` <= `when`. A forecaster that makes
  /// no forecast (every N days, at the warning) answers NaN.
  virtual double probability_by(Side side, Instant at, Instant when) = 0;
};

/// Makes the forecaster of one household from what is known on its first day: zone, changing times, unit, settings,
/// profiles, policy; no changes and no readings.
using MakeForecaster = std::function<std::unique_ptr<Forecaster>(const life::Household& first_day)>;

}  // namespace cellarer::bench
