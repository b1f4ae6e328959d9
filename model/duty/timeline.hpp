// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/duty/load.hpp"

namespace cellarer::duty {

enum class Activity { pacing, standby, off };

/// One stretch of time with one load.
struct Stretch {
  Instant from, to;
  Activity activity = Activity::standby;
  BreathLoad load;           ///< for standby and off: burst = rest = that current, fraction 0
  std::size_t settings = 0;  ///< index into the settings given, of those in force
};

struct TimelineInput {
  Stimulator stimulator;  ///< of the unit in use (a change of unit starts a new timeline)
  Side side = Side::left;
  Zone zone = nullptr;
  std::vector<Settings> settings;           ///< of this side; before the first the side draws nothing
  std::vector<PacedInstead> paced_instead;  ///< of this side
  std::vector<PacedMore> paced_more = {};   ///< of this side: its hours; for its amplitude see paced_more.hpp
  std::vector<SwitchedOff> switched_off;    ///< of this side
  std::vector<Away> away = {};              ///< by time; where two overlap the one that began last counts
};

/// What one side drew, or will draw, from `from` to `to`, as stretches that follow each other without a
/// gap; empty where `to` is not after `from`.
///
/// Spans of pacing are wall-clock times: across a change to or from daylight saving a span keeps its clock
/// times, so that night's pacing is an hour longer or shorter. A wall-clock time that does not exist is
/// taken as the moment of the jump, one that comes twice as the first for a start and the second for an
/// end (longer pacing: the safer side). Overlapping spans are one. Settings hold from their moment until
/// the next settings, in the middle of a span too. Spans that grow do so week by week (growth.hpp). While the wearer is
/// away the wall clock is that of the place.
///
/// `paced_more` lengthens the spans, `paced_instead` takes their place (how: paced_hours.hpp), `switched_off`
/// of everything.
/// Before the first settings nothing is known of the side: off, with a load of 0 mA, so no charge is
/// counted there; a caller who knows better shifts the first settings back.
/// Complexity: O(n log n) in days + entries; two years of nights take well under a millisecond.
/// Errors: none; the input has been checked at the door.
std::vector<Stretch> timeline(const TimelineInput& input, Instant from, Instant to);

/// Reference charge [mAh at the reference voltage] drawn until a moment, and back: a timeline summed once,
/// then searched by halving. The charge from the cells themselves differs by the converter (depth_table.hpp).
class ChargeClock {
 public:
  explicit ChargeClock(std::vector<Stretch> stretches);
  double charge_mAh(Instant at) const;       ///< since the first stretch's start; clamped to the timeline
  Instant when(double charge_mAh) const;     ///< first moment at which that much is drawn; the end if never
  bool reaches(double charge_mAh) const;     ///< whether the timeline is long enough
  const Stretch& stretch(Instant at) const;  ///< the stretch in force
  const std::vector<Stretch>& stretches() const { return stretches_; }

 private:
  std::vector<Stretch> stretches_;
  std::vector<double> charge_before_mAh_;
};

}  // namespace cellarer::duty
