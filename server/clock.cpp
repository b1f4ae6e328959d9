// SPDX-License-Identifier: MIT
#include "server/clock.hpp"

namespace cellarer {

Instant SystemClock::now() const { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); }

}  // namespace cellarer
