// SPDX-License-Identifier: MIT
// What the list holds, and what it is read from. How it is made into bytes: board_pages.cpp.
#include "server/service/agency_board.hpp"

#include <spdlog/spdlog.h>

#include <algorithm>

#include "server/household_key.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/folded_homes.hpp"

namespace cellarer::service {

namespace {

constexpr std::size_t read_at_once = 64;     ///< households, before a list is answered
constexpr std::size_t forecast_at_once = 8;  ///< households
constexpr std::uint64_t write_every_steps = 32;
constexpr std::chrono::hours outlook_kept{6};
constexpr std::chrono::minutes rows_kept{5};

bool is_of_the_desk(const store::StoredAgencyEntry& entry) {
  return entry.kind == desk::round_calendar || entry.kind == desk::agency_stock || entry.kind == desk::round;
}

}  // namespace

AgencyBoard::AgencyBoard(std::string agency, store::Store& store, HouseholdService& households)
    : agency_(std::move(agency)),
      store_(store),
      households_(households),
      born_(std::to_string(households.clock().now().time_since_epoch().count())) {
  households.for_each_of(agency_, [&](const std::string& key) {
    Row& row = rows_[key];
    row.is.household = reference_of(key);
    row.written.urgency.household = row.is.household;
    changed_[key] = {};
  });
  const std::lock_guard lock(mutex_);
  renew_frame();
}

void AgencyBoard::touch(const std::string& household_key) {
  const std::lock_guard lock(touching_);
  touched_.try_emplace(household_key, Steady::now());
}

/// Under the lock.
void AgencyBoard::take_touched() {
  std::map<std::string, Steady::time_point> touched;
  {
    const std::lock_guard lock(touching_);
    touched.swap(touched_);
  }
  for (const auto& [key, since] : touched) failed_.erase(key);
  changed_.merge(touched);
}

bool AgencyBoard::work(Steady::duration settling) {
  if (++steps_ % write_every_steps == 0) write_rows();
  return read_one(settling) || forecast_one() || write_rows();
}

void AgencyBoard::catch_up(bool all) {
  for (std::size_t n = 0; all || n < read_at_once; ++n)
    if (!read_one()) break;
  const auto waiting = [&] {
    const auto now = progress();
    return now.of - now.computed;
  };
  if (waiting() <= forecast_at_once) {
    for (std::size_t n = 0; n < forecast_at_once; ++n)
      if (!forecast_one()) break;
  }
  write_rows();
}

/// What has changed stays so until it is in its row: whoever asks meanwhile reads it too, and need not wait for a
/// thread of lower priority.
bool AgencyBoard::read_one(Steady::duration settling) {
  std::string key;
  {
    const auto until = Steady::now() - settling;
    const std::lock_guard lock(mutex_);
    take_touched();
    const auto one = std::find_if(changed_.begin(), changed_.end(), [&](const auto& it) { return it.second <= until; });
    if (one == changed_.end()) return false;
    key = one->first;
  }
  try {
    read(key);
  } catch (const store::StoreError&) {
    throw;
  } catch (const std::exception& error) {  // one that cannot be read must not keep the others from being
    spdlog::error("the desk's row of a household: {}", error.what());
    const std::lock_guard lock(mutex_);
    changed_.erase(key);
    fail(key);
  }
  return true;
}

/// Under the lock. What was forecast before something befell it is not shown any longer: its "tonight" is past.
void AgencyBoard::fail(const std::string& key) {
  failed_.insert(key);
  const auto row = rows_.find(key);
  if (row == rows_.end()) return;
  row->second.is.outlook = nullptr;
  row->second.to_write = true;
}

void AgencyBoard::read(const std::string& key) {
  const auto stored = store_.household(key);
  if (!stored) {
    const std::lock_guard lock(mutex_);
    changed_.erase(key);
    if (rows_.erase(key) > 0) ++version_;
    return;
  }
  auto desk = desk_record(*stored, store_.entries(key));
  const auto document = json::parse(stored->document);
  const Zone zone = read_zone(json::Field(document, "")["zone"]);
  const std::lock_guard lock(mutex_);
  // What is written from now on is told of when it has been stored.
  const auto now = store_.household(key);
  if (now && now->last_entry <= desk.last_entry)
    changed_.erase(key);
  else
    changed_[key] = Steady::now();
  Row& row = rows_[key];
  if (row.read && row.is.desk.last_entry > desk.last_entry) return;  // somebody was quicker, and read more
  row.is.household = reference_of(key);
  row.is.desk = std::move(desk);
  row.read = row.to_write = true;
  if (home_zone_ == nullptr) home_zone_ = zone;
}

std::int64_t AgencyBoard::made_from() const {
  constexpr std::int64_t apart = 1'000'000'000'000;
  return frame_.agency.calendar.number + forecasts_anew_ * apart;
}

/// Made from what is known now, whatever the hour. An older forecast is shown until the new one is there.
bool AgencyBoard::is_current(const Row& row) const {
  return row.read && row.is.outlook && row.use_entry >= row.is.desk.last_use_entry && row.made_from == made_from() &&
         row.storage == row.is.desk.storage;
}

bool AgencyBoard::is_stale(const Row& row) const {
  if (!row.read) return false;
  if (!is_current(row)) return true;
  const Instant now = households_.clock().now();
  const Outlook& outlook = *row.is.outlook;
  return now >= outlook.as_of + outlook_kept || stock::date_in(outlook.zone, now) != outlook.today;
}

/// Those that must be made anew before those that are only old; what another thread is at comes last.
std::string AgencyBoard::next_stale() const {
  std::string old, running;
  for (const auto& [key, row] : rows_) {
    if (failed_.count(key) > 0 || !is_stale(row)) continue;
    const bool current = is_current(row);
    if (computing_.count(key) > 0) {
      if (!current && running.empty()) running = key;
    } else if (!current) {
      return key;
    } else if (old.empty()) {
      old = key;
    }
  }
  return running.empty() ? old : running;
}

bool AgencyBoard::forecast_one() {
  std::string key;
  RoundCalendar calendar;
  std::map<std::string, int> storage;
  std::int64_t made_from = 0, use_entry = 0;
  bool for_its_row_alone = false;
  {
    const std::lock_guard lock(mutex_);
    renew_frame();
    key = next_stale();
    if (key.empty()) return false;
    const Row& row = rows_.at(key);
    calendar = frame_.agency.calendar;
    storage = row.is.desk.storage;
    made_from = this->made_from();
    use_entry = row.is.desk.last_use_entry;
    const bool recorded_just_now = row.is.outlook && row.use_entry < use_entry;
    for_its_row_alone = rows_.size() > most_homes_folded && !recorded_just_now;
    computing_.insert(key);
  }
  std::shared_ptr<const Outlook> outlook;
  try {
    const auto snapshot = households_.snapshot(key);
    outlook = std::make_shared<Outlook>(outlook_of(snapshot->record, calendar, storage, households_.clock().now()));
    households_.home_lots_of(key);  // while its record is in memory: the list of lots asks for thousands
    if (for_its_row_alone) households_.let_go(key);
  } catch (const std::exception& error) {
    spdlog::error("the desk's row of a household: {}", error.what());
  }
  const std::lock_guard lock(mutex_);
  computing_.erase(key);
  const auto row = rows_.find(key);
  if (row == rows_.end() || use_entry < row->second.use_entry) return true;
  if (!outlook) {
    fail(key);
    return true;
  }
  row->second.is.outlook = std::move(outlook);
  row->second.use_entry = use_entry;
  row->second.made_from = made_from;
  row->second.storage = std::move(storage);
  row->second.to_write = true;
  return true;
}

/// Under the lock.
Zone AgencyBoard::zone_of_desks() const {
  const std::string& name = frame_.agency.calendar.zone_name;
  if (!name.empty()) return date::locate_zone(name);
  return home_zone_ == nullptr ? date::locate_zone("UTC") : home_zone_;
}

Zone AgencyBoard::zone() const {
  const std::lock_guard lock(mutex_);
  return zone_of_desks();
}

Date AgencyBoard::today_at(Instant now) const { return stock::date_in(zone_of_desks(), now); }

/// Under the lock.
void AgencyBoard::renew_frame() {
  const auto entries = households_.journal().of(agency_);
  frame_.now = households_.clock().now();
  const bool more = entries->size() != entries_seen_;
  if (more) {
    const auto first = entries->begin() + static_cast<std::ptrdiff_t>(entries_seen_);
    if (!std::all_of(first, entries->end(), is_of_the_desk)) ++forecasts_anew_;
    const auto lots = households_.lots_of_agency(agency_);
    if (lots_ && lots_->corrected != lots->corrected) {  // what was taken up has other numbers now
      frame_.agency = {};
      entries_seen_ = 0;
    }
    lots_ = lots;
    take_up(frame_.agency, *entries, entries_seen_, *lots_);
    entries_seen_ = entries->size();
  }
  const Date today = today_at(frame_.now);
  if (!more && frame_.coming.today == today) return;
  frame_.coming = coming_rounds(frame_.agency, today);
  for (auto& [key, row] : rows_) row.to_write = true;
}

bool AgencyBoard::write_rows() {
  const std::lock_guard lock(mutex_);
  renew_frame();
  const bool due = frame_.now >= written_at_ + rows_kept || frame_.now < written_at_;
  bool any = false;
  for (auto& [key, row] : rows_) {
    if (!row.to_write && !due) continue;
    row.to_write = false;
    auto written = board_row({row.is.household, row.is.desk, row.is.outlook, row.left, failed_.count(key) > 0}, frame_);
    if (written.json == row.written.json) continue;
    row.written = std::move(written);
    any = true;
  }
  if (due) written_at_ = frame_.now;
  if (any) ++version_;
  return any;
}

/// Under the lock.
DeskHousehold AgencyBoard::corrected(const Row& row) const {
  DeskHousehold one = row.is;
  if (lots_) correct_lots(one.desk.deliveries, *lots_);
  return one;
}

Progress AgencyBoard::counted() const {
  Progress progress{0, rows_.size()};
  for (const auto& [key, row] : rows_)
    if (is_current(row) || failed_.count(key) > 0) ++progress.computed;
  return progress;
}

Progress AgencyBoard::progress() const {
  const std::lock_guard lock(mutex_);
  return counted();
}

BoardFrame AgencyBoard::frame() {
  const std::lock_guard lock(mutex_);
  renew_frame();
  return frame_;
}

std::vector<DeskHousehold> AgencyBoard::households() const {
  const std::lock_guard lock(mutex_);
  std::vector<DeskHousehold> all;
  all.reserve(rows_.size());
  for (const auto& [key, row] : rows_) all.push_back(corrected(row));
  return all;
}

std::optional<DeskHousehold> AgencyBoard::household(const std::string& key) const {
  const std::lock_guard lock(mutex_);
  const auto row = rows_.find(key);
  return row == rows_.end() ? std::nullopt : std::optional(corrected(row->second));
}

AgencyBoard::Listed AgencyBoard::outlook(const std::string& key) {
  const std::lock_guard lock(mutex_);
  renew_frame();
  take_touched();
  const auto row = rows_.find(key);
  if (row == rows_.end() || failed_.count(key) > 0) return {nullptr, true};
  const bool there = changed_.count(key) == 0 && !is_stale(row->second);
  return {there ? row->second.is.outlook : nullptr, false};
}

std::map<std::string, Instant> AgencyBoard::units_elsewhere(const std::string& key, Instant now) const {
  std::map<std::string, Instant> seen;
  const std::lock_guard lock(mutex_);
  for (const auto& [other, row] : rows_) {
    if (other == key) continue;
    for (const UnitSeen& unit : row.is.desk.units) {
      if (unit.from <= now) seen[unit.serial] = std::max(seen[unit.serial], unit.from);
    }
  }
  return seen;
}

void AgencyBoard::set_left(const std::vector<rounds::Left>& left) {
  std::map<std::string, std::vector<rounds::Left>> by_household;
  for (const auto& one : left) by_household[one.household].push_back(one);
  const std::lock_guard lock(mutex_);
  for (auto& [key, row] : rows_) {
    auto of_row = by_household.find(row.is.household);
    if (of_row == by_household.end() && row.left.empty()) continue;
    row.left = of_row == by_household.end() ? std::vector<rounds::Left>{} : std::move(of_row->second);
    row.to_write = true;
  }
}

}  // namespace cellarer::service
