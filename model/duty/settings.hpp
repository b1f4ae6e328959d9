// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <chrono>
#include <optional>
#include <vector>

#include "model/quantities/side.hpp"
#include "model/quantities/time.hpp"

namespace cellarer::duty {

/// A span of pacing by the household's wall clock: on each marked weekday from `from` to `to`; where `to`
/// is not after `from` it ends on the next day (21:00 to 07:00). 00:00 to 24:00 is the whole day.
struct PacedSpan {
  std::array<bool, 7> weekday{};  ///< index 0 is Monday
  std::chrono::minutes from{}, to{};
  bool operator==(const PacedSpan&) const = default;
};

/// Spans that grow while a wearer is being conditioned (growth.hpp).
struct Growth {
  Instant since;                         ///< whole weeks count from here, by the wall clock
  std::chrono::minutes a_week{};         ///< more on every day that has spans, 1 min to 24 h
  std::chrono::minutes up_to_per_day{};  ///< of pacing a day, above 0 to 24 h
  bool operator==(const Growth&) const = default;
};

/// What the clinician set for one side, from a moment on and until the next settings of that side.
struct Settings {
  Instant from;
  Side side = Side::left;
  double rate_per_min = 12;                     ///< breaths a minute, 1 to 60
  double inspiratory_fraction = 0.3;            ///< of the breath, > 0 and < 1; equals rate x inspiratory time / 60
  double amplitude = 1;                         ///< the unit's own scale, > 0
  std::vector<PacedSpan> paced;                 ///< empty: the whole day, every day
  std::optional<Growth> growth = std::nullopt;  ///< of the spans
  bool operator==(const Settings&) const = default;
};

/// Hours actually paced, where they differed from the settings: between `from` and `to` (none: until said
/// otherwise) the side was paced all the time (`whole_day`) or for `hours_per_day`.
struct PacedInstead {
  Side side = Side::left;
  Instant from;
  std::optional<Instant> to;
  double hours_per_day = 24;
  bool operator==(const PacedInstead&) const = default;
};

/// More pacing than the settings say, as for an infection: while it lasts (no `to`: for all of the future) the side is
/// paced at least that long a day and with at least that amplitude.
struct PacedMore {
  Side side = Side::left;
  Instant from;
  std::optional<Instant> to;
  std::optional<double> hours_per_day;             ///< above 0 to 24, the whole day
  std::optional<double> amplitude;                 ///< on the unit's own scale, > 0
  std::optional<Instant> still_at = std::nullopt;  ///< when somebody last said that it goes on
  bool operator==(const PacedMore&) const = default;
};

/// A time in which the wearer lives by another zone's wall clock.
struct Away {
  Instant from, to;
  Zone zone = nullptr;
};

/// The side was switched off between these times (no `to`: still off).
struct SwitchedOff {
  Side side = Side::left;
  Instant from;
  std::optional<Instant> to;
  bool operator==(const SwitchedOff&) const = default;
};

}  // namespace cellarer::duty
