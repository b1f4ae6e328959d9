// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/quantities/time.hpp"
#include "server/access/principal.hpp"

namespace cellarer::access {

/// Whether the wall clock of `zone` shows a time in these hours: `from` is in, `to` is out; over midnight where `to` is
/// not after `from`.
bool within(const Hours& hours, Zone zone, Instant at);

}  // namespace cellarer::access
