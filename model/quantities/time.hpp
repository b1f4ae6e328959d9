// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>

#include <date/tz.h>

/// Calendar time of the model.
///
/// An `Instant` is a whole second of UTC. The model never asks what time it is: every function that
/// needs "now" takes it as an argument, and every function that needs a household's wall clock takes the
/// household's zone. Zones are found by name outside the model (`date::locate_zone` reads files).
namespace cellarer {

using Instant = std::chrono::sys_seconds;
using Zone = const date::time_zone*;

/// Hours from `a` to `b`, negative when `b` is the earlier.
inline double hours_between(Instant a, Instant b) {
  return std::chrono::duration<double, std::ratio<3600>>(b - a).count();
}

/// `start` and `hours` later, rounded down to the whole second: a forecast errs to the early side.
inline Instant hours_after(Instant start, double hours) {
  using namespace std::chrono;
  return start + floor<seconds>(duration<double, std::ratio<3600>>(hours));
}

}  // namespace cellarer
