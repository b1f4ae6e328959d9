// SPDX-License-Identifier: MIT
#include "model/life/words.hpp"

#include <date/date.h>

#include <cmath>
#include <cstdio>

namespace cellarer::life {

std::string day_words(date::sys_days day) {
  return date::format("%a ", day) + std::to_string(static_cast<unsigned>(date::year_month_day(day).day())) +
         date::format(" %b", day);
}

std::string day_words(Instant at, Zone zone) {
  return day_words(date::sys_days(date::floor<date::days>(zone->to_local(at)).time_since_epoch()));
}

std::string clock_words(Instant at, Zone zone) {
  return date::format("%H:%M", date::floor<std::chrono::minutes>(zone->to_local(at)));
}

std::string number_words(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g", value);
  return text;
}

std::string faster_words(double log_ratio) {
  const double share = std::exp(std::abs(log_ratio)) - 1;
  return std::to_string(static_cast<int>(std::lround(100 * share))) + (log_ratio >= 0 ? " % faster" : " % slower");
}

}  // namespace cellarer::life
