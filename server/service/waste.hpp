// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "model/review/charge_left.hpp"
#include "model/stock/risk_curve.hpp"
#include "server/service/agency_record.hpp"
#include "server/service/household_service.hpp"

/// What an agency's cells cost beside being used up: charge that was thrown away with sets that came out early, cells
/// that expired, cells that were thrown away. For planner and administrator alone, never on a household's page: people
/// at home should change early when in doubt.
namespace cellarer::service {

/// One home's part, as of its newest entry.
struct HomeWaste {
  std::int64_t last_entry = -1;
  Lots lots;
  Common agency;
  Instant since;
  review::ChargesLeft left;
  std::int64_t expired_cells = 0;    ///< past their date on the shelf now, or when they were thrown away
  std::int64_t discarded_cells = 0;  ///< thrown away before their date
};

struct NamedWaste {
  std::string household;  ///< its key
  std::optional<std::string> area;
  std::shared_ptr<const HomeWaste> waste;
};

/// Homes are worked out a few at a time and kept, because each of their ended sets has to be followed through its
/// readings again: whoever asks comes back until all are there. Thread-safe.
class WasteBook {
 public:
  struct Answer {
    std::vector<NamedWaste> homes;  ///< those that are ready
    std::size_t of = 0;             ///< how many there are that can be read
    bool complete() const { return homes.size() == of; }
  };
  /// Works for at most about that long. `since`: the same through the day, or nothing is found kept.
  Answer of(HouseholdService& households, const std::string& agency, Instant since, std::chrono::milliseconds at_most);

 private:
  std::shared_ptr<const HomeWaste> kept(const std::string& household, const HomeWaste& wanted);

  std::mutex mutex_;
  std::unordered_map<std::string, std::shared_ptr<const HomeWaste>> kept_;
};

/// What was wasted of the agency's own store, in cells.
struct StoreWaste {
  std::int64_t expired_cells = 0;    ///< past their date there now, or when they were thrown away
  std::int64_t discarded_cells = 0;  ///< thrown away before their date
};

/// What was thrown away counts from `since` on. The day is that of the agency's calendar.
StoreWaste store_waste(const std::vector<store::StoredAgencyEntry>& entries, const LotFacts& lots, Instant since,
                       Instant now);

/// A side's fresh set by its forecast, for the curve of risk against sets.
std::vector<stock::FreshLife> fresh_lives(const life::HouseholdForecast& forecast);

}  // namespace cellarer::service
