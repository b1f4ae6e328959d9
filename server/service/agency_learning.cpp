// SPDX-License-Identifier: MIT
#include "server/service/agency_learning.hpp"

#include <spdlog/spdlog.h>

#include "model/life/pooling.hpp"
#include "server/household_key.hpp"
#include "server/service/agency_document.hpp"
#include "server/service/folded_homes.hpp"
#include "server/service/household_service.hpp"

namespace cellarer::service {

namespace {

constexpr std::size_t page = 500;
/// Fewer say nothing of the next one, and would hear mostly themselves again.
constexpr std::size_t least_homes = 5;

life::Evidence evidence_of(const HouseholdRecord& record, Instant now, life::LoadTables& tables) {
  const auto& household = record.life;
  auto learned = record.lessons->take();
  auto evidence =
      learned
          ->up_to(household, {life::stints(household, Side::left, now), life::stints(household, Side::right, now)},
                  tables)
          .evidence();
  record.lessons->put_back(std::move(learned));
  return evidence;
}

}  // namespace

Common AgencyBook::of(const std::string& agency) {
  {
    const std::lock_guard lock(mutex_);
    if (const auto found = known_.find(agency); found != known_.end()) return found->second;
  }
  life::AgencyKnowledge knowledge;
  if (const auto kept = store_.newest_learned(agency)) {
    const auto document = nlohmann::json::parse(*kept);
    knowledge = read_agency(json::Field(document, ""));
  }
  const std::lock_guard lock(mutex_);
  return known_.try_emplace(agency, std::make_shared<const life::AgencyKnowledge>(knowledge)).first->second;
}

void AgencyBook::learned(const std::string& agency, const life::AgencyKnowledge& knowledge, Instant at) {
  store_.keep_learned(agency, agency_document(knowledge).dump(), at);
  const std::lock_guard lock(mutex_);
  known_[agency] = std::make_shared<const life::AgencyKnowledge>(knowledge);
}

std::size_t learn_agencies(HouseholdService& households, const std::atomic<bool>& ending) {
  std::string agency, after;
  std::vector<life::Evidence> homes;
  std::size_t telling = 0, read = 0;
  life::LoadTables tables;
  const Instant now = households.clock().now();
  const auto finish = [&] {
    if (homes.size() >= least_homes) {
      telling += homes.size();
      // Always from the first assumptions: what homes say is all in their evidence, and must not count twice.
      households.agencies().learned(agency, life::pool(homes, {}), now);
    }
    homes.clear();
  };
  // One home that cannot be read keeps the others from teaching nothing.
  const auto add = [&](const std::string& household) {
    try {
      auto evidence = evidence_of(households.snapshot(household)->record, now, tables);
      if (evidence.tells_something()) homes.push_back(std::move(evidence));
      if (++read > most_homes_folded) households.let_go(household);
    } catch (const store::StoreError&) {
      throw;
    } catch (const std::exception& error) {
      spdlog::error("household {} teaches nothing: {}", household, error.what());
    }
  };
  for (;;) {
    const auto some = households.households(after, page);
    if (some.empty()) break;
    for (const auto& household : some) {
      if (ending) return telling;
      if (agency_of(household.reference) != agency) finish();
      agency = agency_of(household.reference);
      add(household.reference);
    }
    after = some.back().reference;
  }
  finish();
  return telling;
}

}  // namespace cellarer::service
