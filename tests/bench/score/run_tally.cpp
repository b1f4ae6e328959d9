// SPDX-License-Identifier: MIT
#include "tests/bench/score/run_tally.hpp"

#include <numeric>

namespace cellarer::bench {

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

const char* name_of(SetEnd end) {
  switch (end) {
    case SetEnd::planned:
      return "changed as advised";
    case SetEnd::early:
      return "changed early";
    case SetEnd::warning:
      return "changed at the warning";
    case SetEnd::ran_out:
      return "ran out: the cells";
    case SetEnd::not_recorded:
      return "ran out: change not recorded";
    case SetEnd::wrong_side:
      return "ran out: recorded on the wrong side";
    case SetEnd::ignored:
      return "ran out: advice and warning missed";
    case SetEnd::sudden:
      return "stopped: sudden failure";
  }
  return "";
}

bool is_run_out(SetEnd end) {
  return end == SetEnd::ran_out || end == SetEnd::not_recorded || end == SetEnd::wrong_side || end == SetEnd::ignored;
}

}  // namespace cellarer::bench
