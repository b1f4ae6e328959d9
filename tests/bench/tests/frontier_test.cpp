// SPDX-License-Identifier: MIT
#include <cmath>

#include "tests/bench/score/equal_run_outs.hpp"
#include "tests/bench/score/frontier.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

using std::chrono::hours;
using std::chrono::seconds;

/// States a fixed chance of the coming night for each day that the cells have been in.
class ByAge final : public Forecaster {
 public:
  Instant in;
  double risk_a_night = 0;
  void recorded(const life::CellChange&) override {}
  void recorded(const life::Reading&) override {}
  void recorded(const duty::Settings&) override {}
  void recorded(const duty::PacedInstead&) override {}
  void recorded(const life::UnitInUse&) override {}
  bool advises_change(Side, Instant) override { return false; }
  double probability_by(Side, Instant at, Instant when) override {
    return risk_a_night * (hours_between(at, when) / 24) * (at - in >= hours(24 * 8) ? 1 : 0);
  }
};

/// Sets that live 12 days and a fraction, the fractions spread evenly over a day, each run to its end.
SweepRecord sets_of_twelve_days(int count) {
  SweepRecord record(1);
  ByAge forecaster;
  Forecaster* const all[] = {&forecaster};
  Instant in{};
  for (int set = 0; set < count; ++set) {
    const auto life = seconds(86400 * 12 + 86400 * (2 * set + 1) / (2 * count));
    forecaster.in = in;
    forecaster.risk_a_night = 0.01;
    for (int day = 1; in + hours(24 * day) < in + life; ++day) {
      const Instant at = in + hours(24 * day);
      Evening evening{0, Side::left, at, at + hours(24), in, in + life, 1, set, all};
      evening.charge_left_share = 1 - hours_between(in, at) / hours_between(in, in + life);
      record.evening(evening);
    }
    record.set_ended({0, Side::left, in, in + life, SetEnd::ran_out, 0});
    in += hours(24 * 20);
  }
  return record;
}

}  // namespace

TEST_CASE("a rule of days and a limit lay over the same sets alike") {
  const auto record = sets_of_twelve_days(50);
  // From the eighth evening on 1 % a night: (1 - m) 1 % + m 2 % = 1.05 %.
  const auto limit = lay_over(record, 0, at_risk_limit(0, 0.0104, 0.05), 0.0104, 0.05);
  const auto days = lay_over(record, 0, after_days(8), 8, 0.05);
  CHECK(limit.waste == Approx(days.waste));
  CHECK(limit.run_outs_kept == Approx(0));
  // Missed: evenings 8 to 12 in a row, 1 % each, for m, m^2 ... over eight nights a set.
  const double m = 0.05;
  CHECK(limit.run_outs_missed == Approx(0.01 * (m + m * m + m * m * m + std::pow(m, 4) + std::pow(m, 5)) / 8));
}

TEST_CASE("a policy's run-outs are what its judge says of the nights that it accepts") {
  // Forecaster 1 changes from the eighth evening on by its own figures; 0, the judge, gives each night ten times those.
  SweepRecord record(2);
  ByAge judge, changing;
  judge.risk_a_night = 0.1;
  changing.risk_a_night = 0.01;
  Forecaster* const all[] = {&judge, &changing};
  const Instant in{};
  judge.in = changing.in = in;
  constexpr int nights = 12;
  for (int day = 1; day <= nights; ++day) {
    const Instant at = in + hours(24 * day);
    record.evening({0, Side::left, at, at + hours(24), in, in + hours(24 * 13), 1 - day / 13.0, 0, all});
  }
  record.set_ended({0, Side::left, in, in + hours(24 * 13), SetEnd::ran_out, 0});
  const auto out_at_twelve = [](const SweepRecord&, std::size_t) -> std::optional<std::size_t> { return 11; };
  // Evenings 8 to 11 are accepted, at 10 or 1 % each, in 12 nights.
  CHECK(lay_over(record, 0, out_at_twelve, 0, 0).run_outs_kept == Approx(4 * 0.1 / 12));
  CHECK(lay_over(record, 1, out_at_twelve, 0, 0).run_outs_kept == Approx(4 * 0.01 / 12));
  // A limit of 1 % is not exceeded: all five nights from the eighth on, in 13.
  CHECK(over_limits(record, 0, 1, 0, 0).back().run_outs_kept == Approx(5 * 0.1 / 13));
}

TEST_CASE("a run-out is counted where cut-off came before the policy would have changed the set") {
  const auto record = sets_of_twelve_days(40);
  const auto never = [](const SweepRecord& of, std::size_t set) -> std::optional<std::size_t> {
    return of.sets()[set].nights;
  };
  // All forty run out, each in its thirteenth night; on the eighth evening none has.
  CHECK(lay_over(record, 0, never, 0, 0).run_outs_counted == Approx(1.0 / 13));
  CHECK(lay_over(record, 0, after_days(8), 8, 0).run_outs_counted == 0);
}

TEST_CASE("a forecaster wastes at equal run-outs as much as itself") {
  // Sets whose last evenings' risks rise to 3 % over ten homes; every fourth runs out before it is changed.
  SweepRecord record(1);
  ByAge forecaster;
  Forecaster* const all[] = {&forecaster};
  constexpr int nights = 15;
  for (std::size_t set = 0; set < 400; ++set) {
    const Instant in = Instant{} + hours(24 * 20) * static_cast<long>(set % 40);
    const bool ends = set % 4 == 0;
    const Instant cutoff = in + hours(24 * nights + (ends ? 12 : 48));
    forecaster.in = in;
    for (int day = 1; day <= nights; ++day) {
      forecaster.risk_a_night = 0.03 * day / nights;
      const Instant at = in + hours(24 * day);
      record.evening({set / 40, Side::left, at, at + hours(24), in, cutoff, 1 - day / 18.0, 0, all});
    }
    record.set_ended({set / 40, Side::left, in, cutoff, ends ? SetEnd::ran_out : SetEnd::planned, ends ? 0 : 0.1});
  }
  const auto same = at_equal_run_outs(record, 0, 0, 0, 0.01);
  CHECK(same.by_accepted_risk == Approx(1));
  CHECK(same.counted == Approx(1));
  CHECK(same.counted_error == Approx(0).margin(1e-12));
  CHECK(same.run_outs_expected == Approx(0.01 * 400 * nights));
}

TEST_CASE("the jackknife's error of a mean is the mean's standard error") {
  // Efron and Stein (1981): of the sample mean it is s / sqrt(n), s with n - 1.
  const std::vector<double> values{2, 3, 5, 7, 11};
  std::vector<double> left_out;
  for (const double value : values) left_out.push_back((28 - value) / 4);
  double squares = 0;
  for (const double value : values) squares += (value - 5.6) * (value - 5.6);
  CHECK(jackknife_error(left_out) == Approx(std::sqrt(squares / 4 / 5)));
}

TEST_CASE("days tuned on a side's history begin when there is a history") {
  const auto record = sets_of_twelve_days(20);
  const auto point = lay_over(record, 0, after_tuned_days(record, std::log(12.5 / 10.5)), 0, 0.05);
  CHECK(point.sets == 20 - history_needed);
  // Ten days and a half, so the tenth evening, of sets that come to live 12 and a half.
  CHECK(point.waste == Approx(1 - 10 / 12.5).margin(0.02));
}

TEST_CASE("waste at so many run-outs lies on the line between its neighbours, in the logarithm") {
  const Frontier frontier{{1, 0.30, 1e-7, 0, 1}, {2, 0.20, 1e-5, 0, 1}, {3, 0.10, 1e-3, 0, 1}};
  CHECK(waste_at(frontier, 1e-6) == Approx(0.25));
  CHECK(waste_at(frontier, 1e-4) == Approx(0.15));
  CHECK(std::isnan(waste_at(frontier, 1e-9)));
}

TEST_CASE("records of parts append to the record of the whole") {
  auto whole = sets_of_twelve_days(10);
  const auto part = sets_of_twelve_days(10);
  whole.append(part);
  const auto once = lay_over(part, 0, after_days(8), 8, 0.05), twice = lay_over(whole, 0, after_days(8), 8, 0.05);
  CHECK(twice.sets == 2 * once.sets);
  CHECK(twice.waste == Approx(once.waste));
  CHECK(twice.run_outs_missed == Approx(once.run_outs_missed));
}
