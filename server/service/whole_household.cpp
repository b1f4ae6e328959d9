// SPDX-License-Identifier: MIT
// What is done with households as wholes: erasing, exporting, going through all of them; and the clock they stand
// under.
#include <spdlog/spdlog.h>

#include "server/household_key.hpp"
#include "server/service/household_forecast.hpp"
#include "server/service/household_service.hpp"
#include "server/service/stock_ledger.hpp"

namespace cellarer::service {

using store::Outcome;

namespace {

constexpr std::size_t households_at_a_time = 200;

}  // namespace

store::ErasedHousehold HouseholdService::erase(const std::string& household, const std::string& account) {
  for (;;) {
    const auto now = snapshot(household);
    const auto erased =
        store_.erase({household, now->last_entry, left_by(stock_at(now->record, clock_.now())), clock_.now(), account});
    if (erased.outcome == Outcome::more_was_recorded) continue;
    const std::lock_guard lock(mutex_);
    ++erasures_;
    snapshots_.erase(household);
    home_lots_.erase(household);
    unreadable_.erase(household);
    changes_.tell(household);
    return erased;
  }
}

std::vector<Entry> HouseholdService::export_entries(const std::string& household, const std::string& account) {
  last_entry(household);  // an unknown one leaves no trace
  store_.note({household, account, "exported", clock_.now()});
  return store_.entries(household);
}

void HouseholdService::for_each_of(const std::string& agency,
                                   const std::function<void(const std::string& household)>& work) {
  // Keys of one agency lie together: "agency/" comes before all of them.
  const auto begin = agency + "/";
  std::string after = begin;
  for (;;) {
    const auto page = store_.households(after, households_at_a_time);
    for (const auto& household : page) {
      if (!household.reference.starts_with(begin)) return;
      try {
        work(household.reference);
      } catch (const json::Refused& refused) {
        spdlog::error("household {} cannot be read: {}", household.reference, refused.what());
      } catch (const nlohmann::json::exception& error) {
        spdlog::error("household {} cannot be read: {}", household.reference, error.what());
      } catch (const Problem& problem) {
        if (problem.code() != ProblemCode::unknown_household) throw;  // erased in the meantime
      }
    }
    if (page.size() < households_at_a_time) return;
    after = page.back().reference;
  }
}

std::vector<std::string> HouseholdService::unreadable_of(const std::string& agency) {
  const std::lock_guard lock(mutex_);
  std::vector<std::string> references;
  for (const auto& household : unreadable_)
    if (agency_of(household) == agency) references.push_back(reference_of(household));
  return references;
}

void HouseholdService::require_clock() {
  const Instant now = clock_.now();
  if (now >= right_since_.load()) {
    // The latest that was seen: a clock that goes back to before it is looked at, however far forward it had gone.
    right_since_ = now;
    return;
  }
  const auto later = store_.recorded_after(now);
  if (!later) {
    right_since_ = now;
    return;
  }
  if (clock_.now() >= later->recorded_at) return;  // stored since the clock was read above
  throw Problem(ProblemCode::clock_behind,
                "The service's clock says " + json::rfc3339(now, nullptr) + ", and an entry was recorded at " +
                    json::rfc3339(later->recorded_at, nullptr) +
                    ": one of them is wrong. There is no forecast until the clock is set right, or entries of a wrong "
                    "clock are taken back. Fresh cells in both sides when in doubt.");
}

}  // namespace cellarer::service
