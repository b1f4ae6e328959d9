// SPDX-License-Identifier: MIT
#pragma once
#include <span>
#include <vector>

#include "model/stock/pmf.hpp"

/// Use of an item over days, as renewal processes counted by discrete convolution.
///
/// A stream is one thing that is used again and again: the cell changes of one side, the antenna every 30 days.
///     f_1 = first,  f_k = f_(k-1) * next   (convolution by day: the day of the k-th use)
///     P(N(d) >= k) = sum of f_k up to day d
/// Identities the tests hold it to: geometric `first` and `next` give Binomial(n, p) counts exactly; fixed ones a
/// step function.
namespace cellarer::stock {

/// One stream of uses.
struct Stream {
  DayPmf first;    ///< day of the first use, from today
  DayPmf next;     ///< days from one use to the next; next[0] must be 0: at most one use a day
  int amount = 1;  ///< units taken each time, 0 or more
};

/// Streams that are independent of each other, given what they share.
struct Scenario {
  double weight = 1;
  std::vector<Stream> streams;
};

/// Demand for one item: a mixture of scenarios (weights sum to 1). What streams share - a wearer who draws more on
/// both sides, set after set - differs between scenarios, so that it does not average out over sets as the sets'
/// own spread does.
struct Demand {
  std::vector<Scenario> scenarios;
  int days = 400;           ///< horizon; day indices run from 0 to days - 1
  int pieces_per_unit = 1;  ///< cells of a set; 1 for items counted singly
};

inline constexpr int longest_horizon_days = 400;

/// Counts that are rarer than this within the horizon are left out.
inline constexpr double rare_count = 1e-13;

/// Day of a use given the day of the one before: convolution, cut at the horizon of `day`.
DayPmf next_use(const DayPmf& day, const DayPmf& next);

/// Uses a day of one stream, in the long run; a step that reaches beyond `days` is taken to end there.
double uses_a_day(const Stream& stream, int days);

/// `result[k][d]`: probability of k or more uses of the stream after day `after_day` up to and including day d (from 0
/// to days - 1; all at 0 for d <= after_day and k above 0). `after_day` -1 counts from the start of today. The last k
/// is the first that is rarer than `rare_count` within these days. Cost: O(K days L) for K uses within the horizon and
/// steps spread over L days, both cut where probability is below 1e-18: a side with lives of 12 days over 400 days
/// takes some tenths of a millisecond.
using UsesAtLeast = std::vector<std::vector<double>>;
UsesAtLeast uses_at_least(const Stream& stream, int after_day, int days);

/// `result[d]` (d from 0 to days - 1): distribution of the units that a scenario uses after day `after_day` up to and
/// including day d. Cost: that of uses_at_least() for each stream, and a product of counts for each day.
std::vector<CountPmf> used_by_day(const Scenario& scenario, int after_day, int days);

/// The same for the whole mixture.
std::vector<CountPmf> used_by_day(const Demand& demand, int after_day = -1);

/// The same for one stream.
std::vector<CountPmf> used_by_day(const Stream& stream, int after_day, int days);

/// The same for the whole mixture, up to and including each of these days only (in any order, within the horizon).
std::vector<CountPmf> used_until(const Demand& demand, std::span<const int> days, int after_day = -1);

}  // namespace cellarer::stock
