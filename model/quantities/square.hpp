// SPDX-License-Identifier: MIT
#pragma once

namespace cellarer {

constexpr double square(double value) { return value * value; }

}  // namespace cellarer
