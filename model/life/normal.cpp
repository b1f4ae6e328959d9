// SPDX-License-Identifier: MIT
#include "model/life/normal.hpp"

#include <boost/math/special_functions/erf.hpp>

namespace cellarer::life {

double normal_quantile(double p) { return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * p); }

}  // namespace cellarer::life
