// SPDX-License-Identifier: MIT
#include "tests/bench/score/poisson.hpp"

#include <boost/math/special_functions/gamma.hpp>

namespace cellarer::bench {

double poisson_upper_bound(std::uint64_t counted) {
  return boost::math::gamma_p_inv(static_cast<double>(counted) + 1, 0.95);
}

}  // namespace cellarer::bench
