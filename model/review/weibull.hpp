// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

namespace cellarer::review {

/// One part's service: until it wore out, or until it was last known to work (taken out for another reason, still in
/// use): then the life is right-censored.
struct Service {
  double days = 0;  ///< above 0
  bool worn_out = true;
};

struct Interval {
  double low = 0, high = 0;
};

/// Weibull life by maximum likelihood:  S(t) = exp(-(t / scale)^shape).
///
///     shape   root of  sum t^b ln t / sum t^b - 1 / b - mean of ln t of the worn out = 0   (sums over all), one root
///     scale   (sum t^b / worn out)^(1 / b)
///
/// Intervals: normal on the log scale from the observed information (Meeker and Escobar 1998, section 8.4).
/// NIST/SEMATECH e-Handbook 8.4.1.
struct WeibullFit {
  double shape = 1, scale_days = 1;
  Interval shape_95, scale_95_days;
  double log_likelihood = 0;
  int worn_out = 0, in_all = 0;

  double median_days() const;
};

/// None with fewer than two different worn-out lives: then no shape can be told.
std::optional<WeibullFit> fit_weibull(const std::vector<Service>& services);

}  // namespace cellarer::review
