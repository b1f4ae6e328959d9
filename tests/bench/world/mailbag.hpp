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
/// perhaps the same where the side's last recorded one lies within 12 hours and nothing between, as the service does.
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
  std::array<std::optional<Instant>, 2> last_change_, last_reading_;  ///< of a side, as delivered

  void tell(const Record& record);
};

}  // namespace cellarer::bench
