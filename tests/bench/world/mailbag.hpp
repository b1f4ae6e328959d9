// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <variant>
#include <vector>

#include "tests/bench/forecaster.hpp"

namespace cellarer::bench {

/// What a household has written down, told to every forecaster in the order of recording. A change is marked as
/// perhaps the same as the side's last one by the service's rule: within 12 hours, for no trouble of its own, and no
/// warning or stop between.
class Mailbag {
 public:
  using Record = std::variant<life::CellChange, life::Reading, duty::Settings, duty::PacedInstead, life::UnitInUse>;

  Mailbag(const life::Household& first_day, const MakeForecaster& decider, std::span<const MakeForecaster> told);

  Forecaster& decider() { return *forecasters_.front(); }
  std::span<Forecaster* const> all() const { return views_; }

  void put(Instant recorded_at, Record record) { waiting_.emplace(recorded_at, std::move(record)); }
  /// Tells all that was recorded by then.
  void deliver(Instant by);

 private:
  std::vector<std::unique_ptr<Forecaster>> forecasters_;
  std::vector<Forecaster*> views_;
  std::multimap<Instant, Record> waiting_;
  std::array<std::optional<life::CellChange>, 2> last_change_;  ///< of a side, the last delivered that is no repeat
  std::array<std::optional<Instant>, 2> last_trouble_;          ///< of a side, the last warning or stop delivered

  void tell(const Record& record);
  bool perhaps_the_same(const life::CellChange& first, const life::CellChange& second) const;
};

}  // namespace cellarer::bench
