// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "tests/bench/events.hpp"

namespace cellarer::bench {

/// What a whole sweep of policies is computed from, in one run.
///
/// The household is run with a decider that changes late, so that each set has evenings far beyond what any policy
/// accepts. On each evening the risks that each forecaster states are kept; afterwards any limit, or any number of
/// days, is laid over the same sets: the set would have come out on the first evening on which the policy says so.
/// One difference to a run of its own remains: sets that stay in longer teach a forecaster a little more.
///
/// Run-outs need not be counted where they are few. Given all that is recorded by an evening, the best possible
/// forecaster states the true probability that cut-off comes before the next; summed over the nights that a policy
/// accepts, that is an unbiased estimate of its run-outs, of which five in a million show in some thousand sets. It is
/// one only for policies that know no more than that forecaster: whoever is given a truth beside is judged by the best
/// possible that has the same.
class SweepRecord : public Observer {
 public:
  struct Night {
    float days_in = 0;     ///< since the set went in
    float left_share = 0;  ///< of the charge that the set gives to cut-off
  };
  struct Stated {
    float next = 0, next_but_one = 0;  ///< probability of cut-off by the next changing time, and by the one after it
  };
  struct Set {
    std::size_t household = 0;
    Side side = Side::left;
    double life_days = 0;
    double left_share = 0;  ///< when it did come out
    std::size_t first_night = 0, nights = 0;
    bool counts = true;    ///< false: a sudden failure
    bool ran_out = false;  ///< it came out because cut-off came
  };

  explicit SweepRecord(std::size_t forecasters) : forecasters_(forecasters) {}

  void evening(const Evening& evening) override;
  void set_ended(const SetEnded& set) override;
  void warned(const Warned&) override {}
  void append(const SweepRecord& other);

  const std::vector<Set>& sets() const { return sets_; }
  const std::vector<Night>& nights() const { return nights_; }
  const Stated& stated(std::size_t night, std::size_t forecaster) const {
    return stated_[night * forecasters_ + forecaster];
  }

 private:
  std::size_t forecasters_;
  std::vector<Set> sets_;
  std::vector<Night> nights_;
  std::vector<Stated> stated_;
  /// Nights of the set that is in, by side: they stand together in the record only once the set has ended.
  struct Open {
    double life_days = 0;
    std::vector<Night> nights;
    std::vector<Stated> stated;
  };
  std::array<Open, 2> open_;
  std::size_t household_ = static_cast<std::size_t>(-1);
};

}  // namespace cellarer::bench
