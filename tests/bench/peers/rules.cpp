// SPDX-License-Identifier: MIT
#include "tests/bench/peers/rules.hpp"

#include "tests/bench/peers/rule_only.hpp"

namespace cellarer::bench {

namespace {

class EveryNDays final : public RuleOnly {
 public:
  explicit EveryNDays(int days) : days_(days) {}

  bool advises_change(Side side, Instant at) override {
    // An hour forgives the day on which clocks go forward.
    const auto since = cells_since(side);
    return since && at - *since + std::chrono::hours(1) >= std::chrono::hours(24 * days_);
  }

 private:
  int days_;
};

class AtTheLowestStep final : public RuleOnly {
 public:
  using RuleOnly::recorded;
  void recorded(const life::CellChange& change) override {
    RuleOnly::recorded(change);
    low_[index_of(change.side)] = false;
  }
  void recorded(const life::Reading& reading) override {
    constexpr double lowest_fifth_percent = 20;
    auto& low = low_[index_of(reading.side)];
    if (const auto* step = std::get_if<life::StepShown>(&reading.value)) low = step->step <= 1;
    if (const auto* shown = std::get_if<life::PercentShown>(&reading.value))
      low = shown->percent <= lowest_fifth_percent;
  }
  bool advises_change(Side side, Instant) override { return low_[index_of(side)]; }

 private:
  std::array<bool, 2> low_{};
};

class AtTheWarning final : public RuleOnly {
 public:
  bool advises_change(Side, Instant) override { return false; }
};

}  // namespace

MakeForecaster every_n_days(int days) {
  return [days](const life::Household&) { return std::make_unique<EveryNDays>(days); };
}

MakeForecaster at_the_lowest_step() {
  return [](const life::Household&) { return std::make_unique<AtTheLowestStep>(); };
}

MakeForecaster at_the_warning() {
  return [](const life::Household&) { return std::make_unique<AtTheWarning>(); };
}

}  // namespace cellarer::bench
