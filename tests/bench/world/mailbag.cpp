// SPDX-License-Identifier: MIT
#include "tests/bench/world/mailbag.hpp"

#include "tests/bench/sides.hpp"

namespace cellarer::bench {

Mailbag::Mailbag(const life::Household& first_day, const MakeForecaster& decider,
                 std::span<const MakeForecaster> told) {
  forecasters_.push_back(decider(first_day));
  for (const auto& make : told) forecasters_.push_back(make(first_day));
  for (const auto& forecaster : forecasters_) views_.push_back(forecaster.get());
}

void Mailbag::deliver(Instant by) {
  while (!waiting_.empty() && waiting_.begin()->first <= by) {
    tell(waiting_.begin()->second);
    waiting_.erase(waiting_.begin());
  }
}

void Mailbag::tell(const Record& record) {
  using namespace std::chrono_literals;
  if (const auto* reading = std::get_if<life::Reading>(&record)) last_reading_[index_of(reading->side)] = reading->at;
  if (const auto* change = std::get_if<life::CellChange>(&record)) {
    auto entered = *change;
    auto& last = last_change_[index_of(change->side)];
    const auto& read = last_reading_[index_of(change->side)];
    entered.perhaps_the_same = last && change->at >= *last && change->at - *last <= 12h && !(read && *read > *last);
    last = change->at;
    for (auto* forecaster : views_) forecaster->recorded(entered);
    return;
  }
  for (auto* forecaster : views_) {
    std::visit([forecaster](const auto& what) { forecaster->recorded(what); }, record);
  }
}

}  // namespace cellarer::bench
