// SPDX-License-Identifier: MIT
#include "model/duty/wall_clock.hpp"

namespace cellarer::duty {

Instant WallClock::instant(date::local_seconds wall, Edge edge) {
  if (wall >= known_from_ && wall < known_to_) return Instant(wall.time_since_epoch() - offset_);
  const date::local_info info = zone_->get_info(wall);
  if (info.result == date::local_info::nonexistent) return info.first.end;
  if (info.result == date::local_info::ambiguous) {
    const auto& which = edge == Edge::start ? info.first : info.second;
    return Instant(wall.time_since_epoch() - which.offset);
  }
  offset_ = info.first.offset;
  // Two days' distance from either jump: more than any jump made so far, a skipped day included.
  constexpr std::chrono::days distance{2};
  known_from_ = date::local_seconds((info.first.begin + distance).time_since_epoch() + offset_);
  known_to_ = date::local_seconds((info.first.end - distance).time_since_epoch() + offset_);
  return Instant(wall.time_since_epoch() - offset_);
}

}  // namespace cellarer::duty
