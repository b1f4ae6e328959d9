// SPDX-License-Identifier: MIT
#include <map>

#include "model/stock/fefo.hpp"
#include "model/stock/reorder.hpp"
#include "tests/model/stock/stock_fixture.hpp"
#include "tests/support/catch.hpp"

// The probability of running out with lots that expire, against every course of use enumerated one by one.
using namespace cellarer::stock;
using namespace cellarer::stock::testing;

namespace {

constexpr int horizon = 26;
const Date today = date_of(2026, 3, 10);

/// First day without a piece when uses fall on those days, first expired first out; `horizon` if never.
int runs_out(std::vector<Lot> lots, const std::vector<int>& uses) {
  for (const int day : uses) {
    auto lot = lots.begin();
    while (lot != lots.end() && (lot->last_day < day || lot->units == 0)) ++lot;
    if (lot == lots.end()) return day;
    --lot->units;
  }
  return horizon;
}

/// Adds the probability of each course to the day on which it runs out.
void enumerate(const Stream& stream, const std::vector<Lot>& lots, std::vector<int>& uses, double probability,
               std::vector<double>& out) {
  const DayPmf& pmf = uses.empty() ? stream.first : stream.next;
  const int last = uses.empty() ? 0 : uses.back();
  double rest = probability;
  for (std::size_t step = 0; step < pmf.size(); ++step) {
    const int day = last + static_cast<int>(step);
    if (pmf[step] == 0 || day >= horizon) continue;
    uses.push_back(day);
    enumerate(stream, lots, uses, probability * pmf[step], out);
    uses.pop_back();
    rest -= probability * pmf[step];
  }
  const int day = runs_out(lots, uses);
  for (int d = day; d < horizon; ++d) out[static_cast<std::size_t>(d)] += rest;
}

std::vector<double> exact(const Stream& stream, const Stock& stock) {
  std::vector<double> out(horizon, 0.0);
  std::vector<int> uses;
  enumerate(stream, lots_in_order(stock.lines, "tape", today, 1), uses, 1.0, out);
  return out;
}

Line tape(const char* lot, int quantity, std::optional<std::chrono::year_month> expires) {
  return {"tape", lot, quantity, expires, "home"};
}

/// Day by day, what reorder() gives as the probability of having run out: the order date at a service level tells it.
bool runs_out_by(const Stream& stream, const Stock& stock, int day, double at_least) {
  ReorderPolicy policy;
  policy.lead_days = 0;
  policy.service_level = 1 - at_least;
  const ItemForecast forecast = reorder("tape", stock, demand_of({stream}, horizon, 1), today, policy);
  return forecast.order_by && days_between(today, *forecast.order_by) + 1 <= day;
}

}  // namespace

// Uses on day 0, then after 1 or 2 days with a half each; one piece of a lot that ends with today, one more for ever.
// Exactly: 1/4 by day 2 (0, 1, 2), 3/4 by day 3 (all but 0, 2, 4).
TEST_CASE("A lot that is surely used in time does not add to the probability of running out") {
  const Date last_of_march = date_of(2026, 3, 31);
  const Stream stream{DayPmf{1.0}, DayPmf{0.0, 0.5, 0.5}};
  const Stock stock{{tape("A1", 1, month_of(2026, 3)), tape("B2", 1, {})}, {}, {}};
  const ItemForecast forecast = reorder("tape", stock, demand_of({stream}, 10, 1), last_of_march);
  REQUIRE(forecast.days.p05 == 2);
  REQUIRE(forecast.days.p50 == 3);
}

TEST_CASE("A lot that is surely left over when it expires is exact too") {
  // Day 0 or 2 with a half each, once; the only piece expires on day 1.
  const Stream stream{DayPmf{0.5, 0.0, 0.5}, {}};
  const Stock stock{{tape("A1", 5, month_of(2026, 3))}, {}, {}};
  const ItemForecast forecast = reorder("tape", stock, demand_of({stream}, 10, 1), date_of(2026, 3, 30));
  REQUIRE(forecast.days.p05 == 2);
  REQUIRE(forecast.days.p50 == 2);
  REQUIRE(forecast.days.p95 == 10);
}

// The same uses; the first lot ends on day 1, by which one or two pieces are used with a half each. By hand, with the
// courses 0,1,2,3 / 0,1,2,4 / 0,1,3 / 0,2,3 / 0,2,4 of probability 1/8, 1/8, 1/4, 1/4, 1/4:
TEST_CASE("The bound is exact when nothing can be left over, and when the first lot cannot fall short") {
  const Stream stream{DayPmf{1.0}, DayPmf{0.0, 0.5, 0.5}};
  const Date tomorrow_is_last = date_of(2026, 3, 30);
  ReorderPolicy policy;
  policy.lead_days = 0;
  // One piece to day 1, one for ever: out when there are three uses, 1/4 by day 2, 3/4 by day 3, 1 by day 4.
  policy.service_level = 1 - 0.8;
  const Stock used_up{{tape("A1", 1, month_of(2026, 3)), tape("B2", 1, {})}, {}, {}};
  REQUIRE(reorder("tape", used_up, demand_of({stream}, 10, 1), tomorrow_is_last, policy).order_by ==
          date_of(2026, 4, 2));
  // Two pieces to day 1, one for ever: out when two uses come after day 1, 3/8 by day 3, 7/8 by day 4.
  policy.service_level = 1 - 0.45;
  const Stock left_over{{tape("A1", 2, month_of(2026, 3)), tape("B2", 1, {})}, {}, {}};
  REQUIRE(reorder("tape", left_over, demand_of({stream}, 10, 1), tomorrow_is_last, policy).order_by ==
          date_of(2026, 4, 2));
}

TEST_CASE("Dates with expiring lots are never later than the exact ones and at most one day earlier") {
  const Stream stream{DayPmf{0.2, 0.5, 0.3}, DayPmf{0.0, 0.0, 0.2, 0.5, 0.3}};  // every 3.1 days
  for (int in_first = 0; in_first <= 9; ++in_first) {
    for (int in_second = 0; in_second <= 3; ++in_second) {
      const Stock stock{{tape("A1", in_first, month_of(2026, 3)), tape("B2", in_second, {})}, {}, {}};  // to day 21
      const std::vector<double> odds = exact(stream, stock);
      const ItemForecast forecast = reorder("tape", stock, demand_of({stream}, horizon, 1), today);
      const auto within_a_day = [&](int day, double level) {
        const int truly = first_day_reaching(odds, level);
        return day <= truly && day >= truly - 1;
      };
      CAPTURE(in_first, in_second);
      REQUIRE(within_a_day(forecast.days.p05, 0.05));
      REQUIRE(within_a_day(forecast.days.p50, 0.50));
      REQUIRE(within_a_day(forecast.days.p95, 0.95));
    }
  }
}

TEST_CASE("The probability itself lies between the exact one and one and a half times it") {
  const Stream stream{DayPmf{0.2, 0.5, 0.3}, DayPmf{0.0, 0.0, 0.2, 0.5, 0.3}};
  for (int in_first = 4; in_first <= 8; ++in_first) {
    const Stock stock{{tape("A1", in_first, month_of(2026, 3)), tape("B2", 1, {})}, {}, {}};
    const std::vector<double> odds = exact(stream, stock);
    for (int day = 15; day < horizon; ++day) {
      const double truly = odds[static_cast<std::size_t>(day)];
      if (truly < 1e-6 || truly > 0.6) continue;
      CAPTURE(in_first, day, truly);
      REQUIRE(runs_out_by(stream, stock, day, truly * 0.999));
      REQUIRE_FALSE(runs_out_by(stream, stock, day, truly * 1.5));
    }
  }
}
