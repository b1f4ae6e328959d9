// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "model/stock/dates.hpp"
#include "model/stock/ledger.hpp"
#include "model/stock/renewal.hpp"

/// Small values for the stock tests.
namespace cellarer::stock::testing {

inline Date date_of(int year, unsigned month, unsigned day) {
  return std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day};
}

inline std::chrono::year_month month_of(int year, unsigned month) {
  return std::chrono::year{year} / std::chrono::month{month};
}

/// Noon of that day in March 2026, UTC.
inline Instant noon(unsigned day) { return std::chrono::sys_days{date_of(2026, 3, day)} + std::chrono::hours{12}; }

inline Line cells(std::optional<std::string> lot, int quantity, std::optional<std::chrono::year_month> expires = {},
                  std::string place = "home") {
  return {cells_item, std::move(lot), quantity, expires, std::move(place)};
}

/// One thing used on `first_day` and every `interval` days after it, for certain.
inline Stream fixed(int first_day, int interval, int days, int amount = 1) {
  Stream stream{DayPmf(static_cast<std::size_t>(days), 0.0), DayPmf(static_cast<std::size_t>(days), 0.0), amount};
  if (first_day < days) stream.first[static_cast<std::size_t>(first_day)] = 1;
  if (interval < days) stream.next[static_cast<std::size_t>(interval)] = 1;
  return stream;
}

inline Demand demand_of(std::vector<Stream> streams, int days, int pieces_per_unit) {
  return {{{1.0, std::move(streams)}}, days, pieces_per_unit};
}

/// Pieces of the one line with that lot and place; -1 when there is no such line.
inline int quantity_of(const Stock& stock, const std::optional<std::string>& lot, const std::string& place = "home") {
  for (const Line& line : stock.lines) {
    if (line.lot == lot && line.place == place) return line.quantity;
  }
  return -1;
}

}  // namespace cellarer::stock::testing
