// SPDX-License-Identifier: MIT
#include "server/access/guest_hours.hpp"

namespace cellarer::access {

bool within(const Hours& hours, Zone zone, Instant at) {
  const auto local = zone->to_local(at);
  const auto midnight = std::chrono::floor<date::days>(local);
  const auto now = static_cast<int>(std::chrono::duration_cast<std::chrono::minutes>(local - midnight).count());
  if (hours.from_min < hours.to_min) return hours.from_min <= now && now < hours.to_min;
  return now >= hours.from_min || now < hours.to_min;
}

}  // namespace cellarer::access
