// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "model/life/agency.hpp"

/// What many households together say of where a new one starts: empirical Bayes over an agency.
namespace cellarer::life {

/// One unknown of a household of which an agency has many.
struct PooledPlace {
  enum class Kind { household, side, channel_use, channel_bias, exponent };
  Kind kind = Kind::household;
  std::string model = {};  ///< stimulator id, for the unknowns of units
  double profile_sd = 0;   ///< its spread by the model's profile, where the agency knows none of its own
};

/// How well the gauges of a model fitted: the variance of readings over the profile's (an estimate: of a few it may
/// come out below nought), and how many stand behind it.
struct NoiseSeen {
  double variance = 1;
  double readings = 0;
};

/// What a household's own sets say of its unknowns, without the agency's knowledge they started from: a Gaussian
/// likelihood in information form about nought,
///
///     log L(x) = pull' x - x' information x / 2 + const
///
///   x            log use (household, side, channel, exponent) and gauge bias [points] of its places
///   information  [1 / (unit of x)^2], symmetric, without negative eigenvalues; nought where nothing was seen
///   pull         information times the value that fits best
struct Evidence {
  std::vector<PooledPlace> places;
  Eigen::MatrixXd information;
  Eigen::VectorXd pull;
  std::map<std::string, NoiseSeen> noise;  ///< by model

  bool tells_something() const;
};

/// How much the first assumptions weigh against what was seen.
struct PoolingWeight {
  double homes = 10;     ///< a first spread counts like that of so many homes (sides, channels, models) seen exactly
  double mean_sd = 0.1;  ///< how far a model's mean log use may well lie from its profile
  double bias_mean_sd_points = 3;
  double exponent_mean_sd = 0.2;
  double readings = 400;  ///< the profile's gauge noise counts like so many readings
  int rounds = 200;       ///< of expectation and maximisation
};

/// The agency's figures that make its households' evidence most probable, held by the first ones:
///
///     x = mean(group) + sd(group) * normal     group: households; sides; channels, biases, exponents of each model
///
/// by expectation maximisation (each home's posterior in closed form; Dempster, Laird and Rubin 1977). Homes and sides
/// have no mean of their own: what all have in common stands at the models. The spread of a model's channels includes
/// how uncertain its mean still is. `set_log_sd` and the drift stay as they were: a set's own spread is inside the
/// evidence. Accuracy: with weights of nought it is the maximum-likelihood estimate of a random-effects model.
AgencyKnowledge pool(const std::vector<Evidence>& homes, const AgencyKnowledge& first,
                     const PoolingWeight& weight = {});

}  // namespace cellarer::life
