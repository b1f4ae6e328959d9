// SPDX-License-Identifier: MIT
// Backups by the clock: when one is due, and which have had their time.
#include <algorithm>
#include <sstream>

#include <date/date.h>
#include <spdlog/spdlog.h>

#include "server/store/backups.hpp"
#include "server/store/files.hpp"

namespace cellarer::store {

namespace fs = std::filesystem;

namespace {

constexpr const char* name_form = "cellarer-%Y%m%dT%H%M%SZ.backup";
constexpr std::chrono::minutes looks_every{10};
constexpr std::size_t always_kept = 3;

using Dated = std::vector<std::pair<Instant, fs::path>>;

/// One from the future was made by a clock that was wrong: it says nothing of the others.
Dated backups_until(const fs::path& folder, Instant now) {
  auto all = backups_in(folder);
  std::erase_if(all, [&](const auto& one) { return one.first > now; });
  return all;
}

}  // namespace

std::string backup_name(Instant at) { return date::format(name_form, at); }

std::vector<std::pair<Instant, fs::path>> backups_in(const fs::path& folder) {
  std::vector<std::pair<Instant, fs::path>> found;
  if (!fs::is_directory(folder)) return found;
  for (const auto& file : fs::directory_iterator(folder)) {
    std::istringstream name(file.path().filename().string());
    Instant at;
    name >> date::parse(name_form, at);
    if (!name.fail() && backup_name(at) == file.path().filename()) found.emplace_back(at, file.path());
  }
  std::sort(found.begin(), found.end());
  return found;
}

bool is_clock_borne_out(const BackupPlan& plan, Instant now) {
  const auto all = backups_until(plan.folder, now);
  return all.size() >= always_kept && all[all.size() - always_kept].first + 4 * std::chrono::hours(plan.every_h) > now;
}

int remove_old_backups(const BackupPlan& plan, Instant now) {
  if (!is_clock_borne_out(plan, now)) return 0;
  auto old = backups_until(plan.folder, now);
  old.resize(old.size() - always_kept);
  int removed = 0;
  for (const auto& [at, file] : old) {
    if (at + std::chrono::days(plan.keep_days) < now) removed += fs::remove(file) ? 1 : 0;
  }
  return removed;
}

void remove_old_copies(const fs::path& store_file, int keep_days, Instant now) {
  const auto begin = store_file.filename().string() + ".schema-";
  for (const auto& file : fs::directory_iterator(fs::absolute(store_file).parent_path())) {
    if (!file.path().filename().string().starts_with(begin)) continue;
    const auto made = std::chrono::file_clock::to_sys(fs::last_write_time(file));
    if (made + std::chrono::days(keep_days) < now) fs::remove(file);
  }
}

BackupSchedule::BackupSchedule(fs::path store_file, BackupPlan plan, const Clock& clock)
    : store_file_(std::move(store_file)),
      plan_(std::move(plan)),
      key_(read_key(plan_.key_file)),
      clock_(clock),
      thread_([this] { loop(); }) {}

BackupSchedule::~BackupSchedule() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  woken_.notify_one();
  thread_.join();
}

bool BackupSchedule::due() const {
  const auto now = clock_.now();
  const auto all = backups_until(plan_.folder, now);
  return all.empty() || all.back().first + std::chrono::hours(plan_.every_h) <= now;
}

void BackupSchedule::make_one() {
  try {
    fs::create_directories(plan_.folder);
    remove_leftovers(plan_.folder);
    if (due()) {
      const auto to = plan_.folder / backup_name(clock_.now());
      const auto report = make_backup(store_file_, to, key_);
      spdlog::info("backup {}: {} households, {} entries, restored and compared", to.filename().string(),
                   report.households, report.entries);
      const auto ahead = backups_in(plan_.folder).size() - backups_until(plan_.folder, clock_.now()).size();
      if (ahead > 0)
        spdlog::warn("{} backups are dated in the future and do not go by age: remove them by hand", ahead);
    }
    remove_old();
  } catch (const std::exception& error) {
    spdlog::error("no backup could be made: {}", error.what());
  }
}

void BackupSchedule::remove_old() {
  const auto now = clock_.now();
  const int removed = remove_old_backups(plan_, now);
  if (removed > 0) spdlog::info("{} backups older than {} days are removed", removed, plan_.keep_days);
  if (is_clock_borne_out(plan_, now)) remove_old_copies(store_file_, plan_.keep_days, now);
}

void BackupSchedule::loop() {
  std::unique_lock lock(mutex_);
  while (!ending_) {
    lock.unlock();
    make_one();
    lock.lock();
    woken_.wait_for(lock, looks_every, [this] { return ending_; });
  }
}

}  // namespace cellarer::store
