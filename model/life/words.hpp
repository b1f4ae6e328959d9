// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/quantities/time.hpp"

/// Days, times, numbers and shares as the reasons say them.
namespace cellarer::life {

/// "Mon 2 Mar": no padding, so that nothing jumps or doubles a space.
std::string day_words(date::sys_days day);
std::string day_words(Instant at, Zone zone);
/// "14:20"
std::string clock_words(Instant at, Zone zone);
/// Four digits: "4.6"
std::string number_words(double value);
/// "11 % faster" from a log ratio of currents; "0 % faster" where it is none.
std::string faster_words(double log_ratio);

}  // namespace cellarer::life
