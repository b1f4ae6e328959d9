// SPDX-License-Identifier: MIT
#pragma once
#include "model/quantities/time.hpp"

namespace cellarer::duty {

/// Wall-clock times of one zone as instants. Remembers the zone's current offset: two years of nights ask
/// the zone's tables four times rather than three thousand.
///
/// A wall-clock time that does not exist (clocks jumped over it) is the moment of the jump. One that comes
/// twice is the first for the start of a span and the second for its end: longer pacing, the safer side.
class WallClock {
 public:
  enum class Edge { start, end };

  explicit WallClock(Zone zone) : zone_(zone) {}

  Instant instant(date::local_seconds wall, Edge edge);
  /// What the wall clock shows at a moment.
  date::local_seconds wall(Instant at) const { return zone_->to_local(at); }

 private:
  Zone zone_;
  date::local_seconds known_from_{}, known_to_{};  ///< within these the offset holds, with a day to spare
  std::chrono::seconds offset_{};
};

}  // namespace cellarer::duty
