// SPDX-License-Identifier: MIT
#include "tests/bench/score/run_tally.hpp"

#include <numeric>

namespace cellarer::bench {

namespace {

/// In the order of SetEnd.
struct End {
  const char* name;
  bool run_out;
};
constexpr std::array<End, set_end_count> ends{{{"changed as advised", false},
                                               {"changed early", false},
                                               {"changed at the warning", false},
                                               {"ran out: the cells", true},
                                               {"ran out: change not recorded", true},
                                               {"ran out: recorded on the wrong side", true},
                                               {"ran out: advice and warning missed", true},
                                               {"stopped: sudden failure", false}}};

}  // namespace

void RunTally::evening(const Evening& evening) { side_hours_ += hours_between(evening.at, evening.next); }

void RunTally::set_ended(const SetEnded& set) {
  ++ends_[static_cast<std::size_t>(set.end)];
  charge_left_ += set.charge_left_share;
}

void RunTally::warned(const Warned&) { ++warnings_; }

void RunTally::merge(const RunTally& other) {
  for (std::size_t i = 0; i < ends_.size(); ++i) ends_[i] += other.ends_[i];
  warnings_ += other.warnings_;
  side_hours_ += other.side_hours_;
  charge_left_ += other.charge_left_;
}

std::uint64_t RunTally::sets() const { return std::accumulate(ends_.begin(), ends_.end(), std::uint64_t{0}); }

std::uint64_t RunTally::run_outs() const {
  std::uint64_t count = 0;
  for (std::size_t i = 0; i < ends_.size(); ++i) count += is_run_out(static_cast<SetEnd>(i)) ? ends_[i] : 0;
  return count;
}

const char* name_of(SetEnd end) { return ends[static_cast<std::size_t>(end)].name; }

bool is_run_out(SetEnd end) { return ends[static_cast<std::size_t>(end)].run_out; }

}  // namespace cellarer::bench
