// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/forecast.hpp"

/// One invented side, for timing: who lives there paces with the left side alone.
namespace cellarer::bench {

struct InventedSide {
  life::Household household;
  Instant cells_in, now;
};

/// `hours_a_night` of pacing from 22:00; cells went in so many days ago, `readings` of the gauge at equal steps since.
/// The gauge shows what the model expects of it, give or take its own noise, so that no reading opens a second opinion.
struct SideSize {
  double hours_a_night = 24, amplitude = 4, days_in = 6;
  int readings = 30;
};
InventedSide invented_side(const duty::Stimulator& unit, const cell::Profile& cells, const SideSize& size);

}  // namespace cellarer::bench
