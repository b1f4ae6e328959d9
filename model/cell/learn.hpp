// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <vector>

#include "model/cell/fit.hpp"

/// The family's prior from the cells that are published (empirical Bayes): cells are draws from one normal
/// distribution of the parameters, of which each file shows a part.
///
/// Expectation-maximisation: fit every cell with the prior so far; the new mean is that of the fits, the new
/// covariance that of the fits about it plus the mean of what each fit leaves open, with `strength` cells'
/// worth of the wide prior mixed in (20 cells alone cannot fill a covariance of 23 x 23).
///
///     m' = mean_i p_i
///     C' = (strength C_0 + sum_i [(p_i - m')(p_i - m')' + C_i]) / (strength + n)
///
/// Only cells with two loads or more are learned from: one load cannot tell U from R, and with many of those the
/// rounds converge too slowly to be of use. Files of one brand count as one cell together. Family profiles and other
/// designations are not learned from.
namespace cellarer::cell {

struct LearnOptions {
  FamilyPrior start = vague_lr6_prior();
  double strength = 1;
  int rounds = 10;
  Noise noise;
  std::function<void()> after_fit;  ///< for a progress bar; may be empty
};

FamilyPrior learn_prior(const std::vector<PublishedCell>& cells, const LearnOptions& options);

/// Cells of `cells` that may be learned from: LR6 with two loads or more, not a family profile, not of `without_brand`.
std::vector<PublishedCell> learnable(const std::vector<PublishedCell>& cells, const std::string& without_brand = {});

}  // namespace cellarer::cell
