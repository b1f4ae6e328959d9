// SPDX-License-Identifier: MIT
#include "tests/bench/score/sweep_record.hpp"

#include "tests/bench/score/run_tally.hpp"
#include "tests/bench/sides.hpp"

namespace cellarer::bench {

namespace {

double days_between(Instant from, Instant to) { return hours_between(from, to) / 24; }

}  // namespace

void SweepRecord::evening(const Evening& evening) {
  if (evening.household != household_) open_ = {};
  household_ = evening.household;
  if (evening.cutoff <= evening.at) return;
  auto& open = open_[index_of(evening.side)];
  open.life_days = days_between(evening.cells_since, evening.cutoff);
  const auto by = [&](std::size_t forecaster, Instant when) {
    return evening.forecasters[forecaster]->probability_by(evening.side, evening.at, when);
  };
  Night night;
  night.days_in = static_cast<float>(days_between(evening.cells_since, evening.at));
  night.left_share = static_cast<float>(evening.charge_left_share);
  open.nights.push_back(night);
  const auto next_but_one = evening.next + (evening.next - evening.at);
  for (std::size_t f = 0; f < forecasters_; ++f) {
    open.stated.push_back({static_cast<float>(by(f, evening.next)), static_cast<float>(by(f, next_but_one))});
  }
}

void SweepRecord::set_ended(const SetEnded& set) {
  if (set.household != household_) open_ = {};
  household_ = set.household;
  auto& open = open_[index_of(set.side)];
  if (!open.nights.empty()) {
    sets_.push_back({set.household, set.side, open.life_days, set.charge_left_share, nights_.size(), open.nights.size(),
                     set.end != SetEnd::sudden, is_run_out(set.end)});
    nights_.insert(nights_.end(), open.nights.begin(), open.nights.end());
    stated_.insert(stated_.end(), open.stated.begin(), open.stated.end());
  }
  open = {};
}

void SweepRecord::append(const SweepRecord& other) {
  const auto night_shift = nights_.size();
  for (auto set : other.sets_) {
    set.first_night += night_shift;
    sets_.push_back(set);
  }
  nights_.insert(nights_.end(), other.nights_.begin(), other.nights_.end());
  stated_.insert(stated_.end(), other.stated_.begin(), other.stated_.end());
}

}  // namespace cellarer::bench
