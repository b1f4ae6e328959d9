// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "model/cell/curve.hpp"
#include "model/cell/published.hpp"

/// One discharge of one cell from its curve, by quadrature over depth (one pass over the table, no steps of
/// time). Continuous and regular intermittent loads; for a pacing load within breaths see `model/duty`.
///
///     hours = Q * integral from x_start to x_c of dx / I(x),     V(x_c) = cut-off
///
/// with I from the load: constant, U / (R_load + R), or (U - sqrt(U^2 - 4 P R)) / (2 R); where U^2 < 4 P R a
/// power can no longer be fed and the discharge ends. R = share * R_slow + R_fast + fixture.
///
/// Accuracy of the numerics: better than 1e-5 of the hours for a smooth curve (tests/reference/cell_identities.cpp).
namespace cellarer::cell {

/// How the discharge is made.
struct Circumstances {
  double fixture_ohm = 0;  ///< between the cell and where its voltage is measured, >= 0
  double slow_share = 1;   ///< of the burst current that the slow voltage has followed at the end of a burst, 0 to 1
  double start_depth = 0;  ///< 0 fresh
};

struct Discharged {
  double depth = 0;         ///< at the end; not above `start_depth` where the cut-off is met at once
  double hours = 0;         ///< under load
  double capacity_mAh = 0;  ///< delivered
};

/// Share of the current that the slow voltage has followed at the end of each burst of a regimen, once it has
/// settled: (1 - exp(-on / tau)) / (1 - exp(-period / tau)). 1 for a continuous load.
double slow_share(const std::optional<Regimen>& regimen, double tau_min);

/// To the first moment below the cut-off [V] of one cell. Never negative. A cell that still stands above the
/// cut-off at depth 1 is followed to 1.5 along its last slopes.
/// For least squares the hours never reach nought: where the start is below the cut-off they are positive,
/// tiny, and fall smoothly with the missing voltage; `depth` then says so.
Discharged discharge(const Curve& curve, const Load& load, double cutoff_V, const Circumstances& how = {});

}  // namespace cellarer::cell
