// SPDX-License-Identifier: MIT
#include "tests/bench/peers/oracle.hpp"

#include "tests/bench/peers/rule_only.hpp"
#include "tests/bench/world/simulate.hpp"

namespace cellarer::bench {

namespace {

class Oracle final : public RuleOnly, public TruthWatcher {
 public:
  void set_in(Side side, const SetCourse& course) override { cutoff_[index_of(side)] = course.cutoff; }
  bool advises_change(Side side, Instant at) override { return cutoff_[index_of(side)] <= at + std::chrono::hours(24); }
  double probability_by(Side side, Instant, Instant when) override { return cutoff_[index_of(side)] <= when ? 1 : 0; }

 private:
  std::array<Instant, 2> cutoff_{};
};

}  // namespace

MakeForecaster oracle() {
  return [](const life::Household&) { return std::make_unique<Oracle>(); };
}

}  // namespace cellarer::bench
