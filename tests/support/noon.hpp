// SPDX-License-Identifier: MIT
#pragma once
#include "model/quantities/time.hpp"

/// The moment that tests take where any would do.
namespace cellarer::testing {

inline const Instant noon{std::chrono::seconds(1'772'366'400)};  // 2026-03-01 12:00 UTC

}  // namespace cellarer::testing
