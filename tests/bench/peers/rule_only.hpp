// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include "tests/bench/forecaster.hpp"
#include "tests/bench/sides.hpp"

namespace cellarer::bench {

/// A peer that follows a rule and makes no forecast: of all that is recorded it keeps the cell changes at most.
class RuleOnly : public Forecaster {
 public:
  void recorded(const life::CellChange& change) override {
    auto& since = cells_since_[index_of(change.side)];
    since = since ? std::max(*since, change.at) : change.at;
  }
  void recorded(const life::Reading&) override {}
  void recorded(const duty::Settings&) override {}
  void recorded(const duty::PacedInstead&) override {}
  void recorded(const life::UnitInUse&) override {}
  double probability_by(Side, Instant, Instant) override { return std::numeric_limits<double>::quiet_NaN(); }

 protected:
  std::optional<Instant> cells_since(Side side) const { return cells_since_[index_of(side)]; }

 private:
  std::array<std::optional<Instant>, 2> cells_since_;
};

}  // namespace cellarer::bench
