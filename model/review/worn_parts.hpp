// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <string>

#include "model/quantities/side.hpp"
#include "model/quantities/time.hpp"
#include "model/review/weibull.hpp"

namespace cellarer::review {

/// One part in a household: an antenna, a cable, anything that wears.
struct PartService {
  std::string household, kind;  ///< kind: "antenna", ...
  Instant from;
  std::optional<Instant> to;      ///< none: in use
  bool worn_out = false;          ///< at `to`; false: taken out for another reason
  std::optional<Side> side = {};  ///< none: of no side, or not said
};

/// Who is due by when. Days are from now on.
struct PartDue {
  std::string household, kind;
  std::optional<Side> side;
  Instant in_use_since;
  double days_in_use = 0;
  double due_days = 0;             ///< until it has worn out with a probability of 5 %
  double expected_days = 0;        ///< the same, 50 %
  double worn_out_in_30_days = 0;  ///< probability
};

/// The wear of one kind of part across an agency: one shape for all, each household its own rate, which starts from the
/// agency's and moves with what it has seen (partial pooling, in closed form):
///
///     rate of a household  r = 1 / scale^shape ~ Gamma(a, a / r_agency)      a: how much households are alike
///     after d worn out in services t_i:      r ~ Gamma(a + d, a / r_agency + sum t_i^shape)
///     S(t | age s) = ((b + s^shape) / (b + (s + t)^shape))^(a + d)           b = a / r_agency + sum of ended services
///
/// Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6 (Poisson model with exposure t^shape).
struct WearOfKind {
  std::string kind;
  std::optional<WeibullFit> fit;  ///< none: too few worn out so far; then nothing is due
  double alike = 4;               ///< a: worth of the agency's knowledge, in worn-out parts. An assumption.
  std::vector<PartDue> due;       ///< parts in use, the first due first
};

/// `now`: services that end later count as running. By kind, in the order of their names.
std::vector<WearOfKind> wear(const std::vector<PartService>& services, Instant now);

}  // namespace cellarer::review
