// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "model/rounds/records.hpp"

/// The plan's question in numbers: addresses, days on which rounds of an area go, and what each gap between two visits
/// of one address costs. Everything behind plan() works on it.
namespace cellarer::rounds {

/// What a plan costs, compared from left to right: safety first, then visits, then confirmed stops that move.
struct Cost {
  std::int64_t risk_ppm = 0;  ///< sum over needs of the probability of falling short, in millionths
  std::int64_t visits = 0;
  std::int64_t moved = 0;  ///< confirmed stops, counted from below: each one kept is -1
  // NOLINTNEXTLINE(modernize-use-nullptr): a false alarm of version 14
  auto operator<=>(const Cost&) const = default;
  Cost operator+(const Cost& o) const { return {risk_ppm + o.risk_ppm, visits + o.visits, moved + o.moved}; }
  Cost operator-(const Cost& o) const { return {risk_ppm - o.risk_ppm, visits - o.visits, moved - o.moved}; }
};

inline constexpr std::int64_t forced_ppm = 1'000'000'000'000;  ///< of leaving out a visit that a planner has pinned
inline constexpr std::int64_t out_of_question_ppm = 100 * forced_ppm;

/// Rounds of one area on one date count as one column: a household does not mind which of them comes.
struct Column {
  std::string area;
  Date date;
  std::vector<int> rounds;  ///< of the input
  int stops = 0;            ///< their limits together
  bool locked = false;      ///< inside the lead time: only what is confirmed still goes
};

struct GridNeed {
  int household = 0, need = 0;  ///< of the input
  int first = 0, last = 0;      ///< of the address's columns: within its window; last < first: none is
  std::int64_t never_ppm = 0;   ///< not met within the horizon
};

/// One stop of a round, with every household behind that door. Its columns are numbered from 0 by date, -1 stands for
/// today, size() for the end of the horizon.
struct Address {
  std::string key, area;
  std::vector<int> households;  ///< of the input
  std::vector<int> columns;     ///< those that may serve it, by date
  std::vector<int> kept;        ///< by column: confirmed stops (0 or 1) that a visit keeps
  std::vector<GridNeed> needs;
  std::vector<std::int64_t> gaps;
  int size() const { return static_cast<int>(columns.size()); }
  /// Risk of no visit between those at v and at w (-1 <= v < w <= size()): that of the needs which w is the first to
  /// meet, too late, or nobody. A need is met by the first visit in or after its window. Never falls with w nor rises
  /// with v.
  std::int64_t gap(int v, int w) const {
    return gaps[static_cast<std::size_t>(v + 1) * static_cast<std::size_t>(size() + 1) + static_cast<std::size_t>(w)];
  }
  Cost stop(int v) const { return {0, 1, -kept[static_cast<std::size_t>(v)]}; }
};

/// Needs that stock does not reach: left out, or not to be met before a date.
using Shortage = std::map<std::pair<int, int>, std::optional<Date>>;

struct Grid {
  std::vector<Column> columns;
  std::vector<Address> addresses;
  std::int64_t left_out_ppm = 0;  ///< risk of the needs that are left out whatever the visits
  std::int64_t confirmed = 0;     ///< confirmed stops in all: moved = confirmed + Cost::moved
};

/// Precondition: problems_of(input) is empty. Only rounds within the horizon count, and needs whose window begins in
/// it.
Grid grid_of(const PlanInput& input, const Shortage& shortage = {});

/// Probability that the need's household has fallen short if it is met on `date` only, in millionths.
std::int64_t risk_ppm(const Need& need, Date date);

Date last_date(const PlanInput& input);

/// Fills needs' places and the gaps of an address whose columns, households and keeping are set. `forced[v]`: a visit
/// that must be. Returns the risk of the needs left out.
std::int64_t lay_out(Address& address, const std::vector<char>& forced, const std::vector<Column>& columns,
                     const PlanInput& input, const Shortage& shortage);

/// The cost of these visits (columns of the address, ascending).
Cost cost_of(const Address& address, const std::vector<int>& visits);

}  // namespace cellarer::rounds
