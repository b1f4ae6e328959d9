// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>

#include "model/quantities/time.hpp"

/// Calendar days of a household. Stock is reckoned in whole days by the household's own calendar: day 0 is
/// today, day 1 tomorrow. A day index is an `int`, a date a `year_month_day`.
namespace cellarer::stock {

using Date = std::chrono::year_month_day;

/// The date on the household's wall at that moment.
inline Date date_in(Zone zone, Instant at) {
  const auto local = date::floor<date::days>(zone->to_local(at));
  return Date{std::chrono::sys_days{std::chrono::days{local.time_since_epoch().count()}}};
}

/// Days from `from` to `to`, negative when `to` is the earlier.
inline int days_between(Date from, Date to) {
  return static_cast<int>((std::chrono::sys_days{to} - std::chrono::sys_days{from}).count());
}

inline Date days_after(Date start, int days) { return Date{std::chrono::sys_days{start} + std::chrono::days{days}}; }

/// An expiry is printed as a month; the piece is usable to that month's last day.
inline Date last_usable_date(std::chrono::year_month expires) { return Date{expires / std::chrono::last}; }

}  // namespace cellarer::stock
