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
  if (const auto* reading = std::get_if<life::Reading>(&record)) {
    const bool trouble = std::holds_alternative<life::WarningSounded>(reading->value) ||
                         std::holds_alternative<life::SideStopped>(reading->value);
    if (trouble) last_trouble_[index_of(reading->side)] = reading->at;
  }
  if (const auto* change = std::get_if<life::CellChange>(&record)) {
    auto entered = *change;
    auto& certain = last_change_[index_of(change->side)];
    entered.perhaps_the_same = certain && perhaps_the_same(*certain, *change);
    if (!entered.perhaps_the_same) certain = *change;
    for (auto* forecaster : views_) forecaster->recorded(entered);
    return;
  }
  for (auto* forecaster : views_) {
    std::visit([forecaster](const auto& what) { forecaster->recorded(what); }, record);
  }
}

bool Mailbag::perhaps_the_same(const life::CellChange& first, const life::CellChange& second) const {
  using namespace std::chrono_literals;
  using enum life::ChangeReason;
  if (second.at < first.at || second.at - first.at >= 12h) return false;
  const bool for_trouble = second.reason == warning || second.reason == ran_out || second.reason == fault;
  if (for_trouble && second.reason != first.reason) return false;
  const auto& trouble = last_trouble_[index_of(first.side)];
  return !(trouble && *trouble > first.at && *trouble <= second.at);
}

}  // namespace cellarer::bench
