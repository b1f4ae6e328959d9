// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

/// Discrete distributions of the room: by day, and by count.
namespace cellarer::stock {

/// `p[d]`: probability that it happens on day d (0 is today). What is missing from 1 happens after the last day.
using DayPmf = std::vector<double>;

/// `p[n]`: probability of n units. Sums to 1 within 1e-12 (counts rarer than 1e-13 are cut off).
using CountPmf = std::vector<double>;

/// The smallest n with P(N <= n) >= level: what must be there so that it is enough with that probability.
/// For continuous demand this is the order-up-to level of the newsvendor at the critical ratio `level`
/// (Snyder & Shen, Fundamentals of Supply Chain Theory, section 4.3). `level` in (0, 1); rounding of 1e-12 is forgiven.
/// If the mass given does not reach the level, the answer is the size of the distribution.
int smallest_covering(const CountPmf& pmf, double level);

/// P(N > n); n may be negative or beyond the end.
double probability_above(const CountPmf& pmf, long long n);

/// The distribution of the sum of two independent counts. O(a b), tails below 1e-18 left out.
CountPmf sum_of(const CountPmf& a, const CountPmf& b);

/// The first day on which the cumulated probability reaches `level`; the size of the distribution if never.
int first_day_reaching(const std::vector<double>& cumulated, double level);

}  // namespace cellarer::stock
