// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <map>
#include <memory>
#include <mutex>

#include "model/life/agency.hpp"
#include "server/store/store.hpp"

/// What each agency's households have taught together (model/life/pooling.hpp): where the next home starts.
///
/// It is worked out from all records of an agency once a day, beside the service, and kept in the store as a record of
/// the audit trail ("learned"), so that it is there after a start, and that what was known on some day can be told
/// later. A forecast made afterwards uses it; an export carries it.
namespace cellarer::service {

class HouseholdService;

using Common = std::shared_ptr<const life::AgencyKnowledge>;

/// Thread-safe.
class AgencyBook {
 public:
  explicit AgencyBook(store::Store& store) : store_(store) {}

  /// Never null: assumptions where nothing was learned. Reads the store when an agency is asked for first.
  Common of(const std::string& agency);
  /// Kept for all that come.
  void learned(const std::string& agency, const life::AgencyKnowledge& knowledge, Instant at);

 private:
  store::Store& store_;
  std::mutex mutex_;
  std::map<std::string, Common> known_;
};

/// Every agency's households are read, and what they have in common is kept; of an agency with fewer than five homes
/// that have something to tell, nothing. Long; ends early, with nothing kept of the agency under way, when `ending`
/// becomes true. The number of households that had something to tell.
std::size_t learn_agencies(HouseholdService& households, const std::atomic<bool>& ending);

}  // namespace cellarer::service
