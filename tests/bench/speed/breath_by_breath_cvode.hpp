// SPDX-License-Identifier: MIT
#pragma once
#include "model/cell/curve.hpp"
#include "model/duty/load.hpp"

/// One set under steady pacing, every burst and every rest integrated by CVODE (SUNDIALS): depth, and the slow current
/// as a state of its own (first order, 30 minutes). A converter's draw is solved at the moment's slow current. Shared
/// with what is compared are the cell's curve and the meaning of `burst_seen`; the differential equations are written
/// anew (DEVELOPERS.md, 4.2).
namespace cellarer::bench {

struct SteadyPacing {
  duty::Stimulator unit;
  cell::Curve curve;
  duty::BreathLoad load;
  double rate_per_min = 12;
};

struct IntegratedLife {
  double hours = 0;  ///< of pacing to cut-off
  long breaths = 0;
};

/// Adams with fixed-point iteration, begun anew at each step of the load; relative tolerance 1e-6. Throws
/// `std::runtime_error` where CVODE fails.
IntegratedLife life_by_cvode(const SteadyPacing& pacing);

}  // namespace cellarer::bench
