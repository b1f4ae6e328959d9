// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "tests/bench/forecaster.hpp"
#include "tests/bench/peers/given_truth.hpp"
#include "tests/bench/world/world.hpp"

namespace cellarer::bench {

/// The best possible forecaster of a reference world: the posterior under the true generator. It knows the curve, the
/// load, every spread and every rate that the world is drawn with, and of the draws only what it is given; the same
/// policy as ours.
///
/// A set's use and capacity act through one number, theta = k log use - log capacity (true_discharge.hpp), of which 81
/// values are kept, each with its belief in the gauge's error (error_belief.hpp). From set to set a joint Gaussian of
/// the side's own k log use, the channel's bias and the wander is carried on. Day-to-day use blurs the crossing; its
/// part in the readings, half a point, is left out.
///
/// Of model/life it uses the records and the policy, nothing of the forecast. Made for worlds in which people read and
/// record as it is, with one unit, one cell type, no lots, duds, drift or changes of settings: elsewhere it is not the
/// best possible, and the trial does not use it there. `burst_share` is the world's (HouseholdTruth::burst_share).
/// `policy`: where not the household's own. `given`: what it is told of each set beside; then it is the best possible
/// of those who know that.
MakeForecaster best_possible(const World& world, double burst_share,
                             const std::optional<life::Policy>& policy = std::nullopt,
                             GivenTruth given = GivenTruth::none);

}  // namespace cellarer::bench
