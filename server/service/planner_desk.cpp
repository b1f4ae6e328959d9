// SPDX-License-Identifier: MIT
#include "server/service/planner_desk.hpp"

#include <spdlog/spdlog.h>
#include <sys/resource.h>

#include <algorithm>
#include <random>
#include <set>

#include "model/rounds/check.hpp"
#include "server/heap.hpp"
#include "server/household_key.hpp"
#include "server/service/bench_journal.hpp"
#include "server/service/desk_kinds.hpp"

namespace cellarer::service {

namespace {

/// A home's records come several together, at a change of cells; the list waits for the last of them.
constexpr std::chrono::seconds settling{2};

/// Two starts may fall into one second of the clock.
std::string random_name() {
  std::random_device random;
  return std::to_string(static_cast<std::uint64_t>(random()) << 32 | random());
}

}  // namespace

PlannerDesk::PlannerDesk(store::Store& store, HouseholdService& households, std::size_t most_homes)
    : store_(store), households_(households), most_homes_(most_homes), drafts_of_("p" + random_name() + "-") {
  households.changes().listen([this](const std::string& key) {
    const std::lock_guard lock(mutex_);
    const auto agency = agencies_.find(agency_of(key));
    if (agency != agencies_.end()) agency->second->board.touch(key);
  });
}

PlannerDesk::~PlannerDesk() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  wake_.notify_one();
  if (beside_.joinable()) beside_.join();
}

void PlannerDesk::begin() {
  beside_ = std::thread([this] {
    setpriority(PRIO_PROCESS, 0, 19);  // of this thread alone, on Linux: homes that ask come first
    try {
      begin_most_homes();
      run();
    } catch (const std::exception& error) {
      spdlog::error("the planner's desk: {}", error.what());
    }
  });
}

void PlannerDesk::begin_most_homes() {
  std::map<std::string, std::size_t> homes;
  std::string after;
  for (auto page = store_.households(after, 1000); !page.empty(); page = store_.households(after, 1000)) {
    for (const auto& household : page) ++homes[agency_of(household.reference)];
    after = page.back().reference;
  }
  std::size_t begun = 0;
  for (const auto& [agency, count] : homes) {
    if (begun + count > most_homes_) continue;
    begun += count;
    there(agency);
  }
}

/// Rows of all agencies, a step of each in turn; then sleeps a second. Who opens the list has what waits read at once.
void PlannerDesk::run() {
  for (;;) {
    let_go(std::chrono::steady_clock::now() - list_unused_after);
    bool worked = false;
    for (const auto& agency : all_there()) {
      try {
        worked = agency->board.work(settling) || foresee(*agency) || worked;
      } catch (const std::exception& error) {
        spdlog::warn("the planner's list: {}", error.what());
      }
    }
    std::unique_lock lock(mutex_);
    if (ending_) return;
    if (!worked) wake_.wait_for(lock, std::chrono::seconds(1), [&] { return ending_; });
    if (ending_) return;
  }
}

std::vector<PlannerDesk::Shared> PlannerDesk::all_there() {
  const std::lock_guard lock(mutex_);
  std::vector<Shared> all;
  all.reserve(agencies_.size());
  for (const auto& [name, agency] : agencies_) all.push_back(agency);
  return all;
}

PlannerDesk::Shared PlannerDesk::there(const std::string& agency) {
  const std::lock_guard lock(mutex_);
  auto& found = agencies_[agency];
  if (!found) found = std::make_shared<Agency>(agency, store_, households_);
  return found;
}

PlannerDesk::Shared PlannerDesk::of(const std::string& agency) {
  auto found = there(agency);
  const std::lock_guard lock(mutex_);
  found->asked = std::chrono::steady_clock::now();
  return found;
}

std::shared_ptr<AgencyBoard> PlannerDesk::board(const std::string& agency) {
  const auto found = of(agency);
  return {found, &found->board};
}

std::size_t PlannerDesk::homes_with_rows() {
  std::size_t homes = 0;
  for (const auto& agency : all_there()) homes += agency->board.progress().of;
  return homes;
}

void PlannerDesk::let_go(std::chrono::steady_clock::time_point unused_since) {
  std::vector<Shared> gone;  // and freed when nobody waits for the lock
  while (homes_with_rows() > most_homes_) {
    const std::lock_guard lock(mutex_);
    auto oldest = agencies_.end();
    for (auto one = agencies_.begin(); one != agencies_.end(); ++one) {
      // Nobody else holds it, and under this lock nobody comes to.
      const bool idle = one->second.use_count() == 1 && one->second->asked <= unused_since;
      if (idle && (oldest == agencies_.end() || one->second->asked < oldest->second->asked)) oldest = one;
    }
    if (oldest == agencies_.end()) break;
    gone.push_back(std::move(oldest->second));
    agencies_.erase(oldest);
  }
  if (gone.empty()) return;
  gone.clear();
  give_freed_memory_back();
}

DeskRecord PlannerDesk::desk_of(const std::string& household_key) {
  const auto stored = store_.household(household_key);
  if (!stored) throw unknown_household(reference_of(household_key));
  auto record = desk_record(*stored, store_.entries(household_key));
  correct_lots(record.deliveries, *households_.lots_of_agency(agency_of(household_key)));
  return record;
}

store::NewEntry PlannerDesk::entry_of(const Doing& doing, const std::string& household_key, const char* kind,
                                      const nlohmann::json& body, std::size_t nth) const {
  const Instant now = households_.clock().now();
  return {household_key, kind,         now, now, doing.who, body.dump(), doing.key + "/" + std::to_string(nth),
          std::nullopt,  doing.account};
}

std::vector<LoadedLot> totals_of(const std::vector<DeskHousehold>& stops, const std::string& round) {
  std::map<std::pair<std::string, std::string>, LoadedLot> totals;
  for (const DeskHousehold& one : stops) {
    const DeskDelivery* delivery = one.desk.delivery_on(round);
    if (delivery == nullptr) continue;
    for (const DeliveryLine& line : delivery->lines) {
      for (const DeliveredLot& lot : line.lots) {
        auto& total = totals[{line.item, lot.lot}];
        total = {line.item, lot.lot, total.packs + lot.packs, lot.expires, false};
      }
    }
  }
  std::vector<LoadedLot> all;
  all.reserve(totals.size());
  for (auto& [key, lot] : totals) all.push_back(std::move(lot));
  return all;
}

store::NewAgencyEntry PlannerDesk::round_entry_of(const Doing& doing, const rounds::Round& round, RoundState state,
                                                  const std::vector<DeskHousehold>& stops, std::int64_t follows,
                                                  std::size_t nth, const nlohmann::json& more) const {
  std::set<std::string> doors;
  for (const DeskHousehold& one : stops) doors.insert(stop_of(one));
  auto body = round_entry(round, state, static_cast<int>(doors.size()), totals_of(stops, round.id));
  body.update(more);
  return {doing.agency,  desk::round,
          round.id,      households_.clock().now(),
          body.dump(),   doing.key + "/" + std::to_string(nth),
          doing.account, follows};
}

std::vector<DeskHousehold> PlannerDesk::on_round(const std::string& agency, const std::string& round) {
  const auto there = of(agency);
  auto& board = there->board;
  board.catch_up(true);
  auto all = board.households();
  std::erase_if(all, [&](const DeskHousehold& one) {
    const DeskDelivery* delivery = one.desk.delivery_on(round);
    return delivery == nullptr || delivery->answer == Answer::withdrawn;
  });
  std::sort(all.begin(), all.end(), [](const DeskHousehold& a, const DeskHousehold& b) {
    return std::tuple{stop_of(a), a.household} < std::tuple{stop_of(b), b.household};
  });
  return all;
}

namespace {

/// The unit in use and the spares: one that another took the place of is no longer there.
/// With when each was last recorded there.
std::vector<std::pair<std::string, Instant>> units_there(const HouseholdRecord& record, Instant now) {
  std::vector<std::pair<std::string, Instant>> there;
  const UnitRecord* in_use = nullptr;
  std::map<std::string, const UnitRecord*> last;
  for (const UnitRecord& unit : record.units) {
    if (unit.from > now) continue;
    last[unit.serial] = &unit;
    if (!unit.spare) in_use = &unit;
  }
  if (in_use != nullptr && !last[in_use->serial]->spare) there.emplace_back(in_use->serial, in_use->from);
  for (const auto& [serial, unit] : last)
    if (unit->spare) there.emplace_back(serial, unit->from);
  return there;
}

}  // namespace

std::vector<ComesBack> comes_back(const HouseholdRecord& record, const UnitsElsewhere& elsewhere, Instant now) {
  std::vector<ComesBack> list;
  for (const auto& [serial, since] : units_there(record, now)) {
    const auto other = elsewhere.find(serial);
    if (other == elsewhere.end() || other->second <= since) list.push_back({"unit " + serial, 1});
  }
  for (const auto& line : stock_at(record, now).lines) {
    if (line.quantity > 0) list.push_back({line.item + (line.lot ? ", lot " + *line.lot : ""), line.quantity});
  }
  return list;
}

std::vector<ComesBack> PlannerDesk::comes_back_of(const std::string& key) {
  const auto agency = agency_of(key);
  const Instant now = households_.clock().now();
  auto elsewhere = of(agency)->board.units_elsewhere(key, now);
  for (const UnitEvent& event : read_bench_journal(*households_.journal().of(agency)).unit_events) {
    const bool went = event.what == UnitEvent::What::workshop || event.what == UnitEvent::What::withdrawn;
    if (went && event.at <= now) elsewhere[event.serial] = std::max(elsewhere[event.serial], event.at);
  }
  return comes_back(households_.snapshot(key)->record, elsewhere, now);
}

}  // namespace cellarer::service
