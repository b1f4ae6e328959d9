// SPDX-License-Identifier: MIT
#pragma once
#include <condition_variable>
#include <filesystem>
#include <mutex>
#include <thread>

#include "server/clock.hpp"
#include "server/store/maintenance.hpp"
#include "server/store/sealed_file.hpp"

/// Encrypted backups of a store that goes on writing, and their keeping by age.
namespace cellarer::store {

struct BackupPlan {
  std::filesystem::path folder;    ///< made where it is not there
  std::filesystem::path key_file;  ///< made by `cellarer backup --make-key`
  int every_h = 24;
  int keep_days = 30;  ///< then a backup goes, and with it what was erased meanwhile; the three newest always stay
};

/// Copies the store online, encrypts the copy, and looks whether it is good: it is restored into a temporary place
/// beside the store, found whole, the same byte for byte as the copy, and its audit trail a beginning of the store's.
/// Only then has it the name `to`. Throws `StoreError`.
Report make_backup(const std::filesystem::path& store_file, const std::filesystem::path& to, const BackupKey& key);

/// Puts an encrypted backup into the data folder `data`, which must hold no store yet.
void restore_backup(const std::filesystem::path& from, const std::filesystem::path& data, const BackupKey& key);
/// Restores it beside its key, where whoever may read could read the backup too, and checks what is there. Nothing is
/// left there; where a crash left it, the next time removes it.
Report check_backup(const std::filesystem::path& file, const std::filesystem::path& key_file);

/// "cellarer-20260301T213000Z.backup"
std::string backup_name(Instant at);
/// Of the names above in that folder, the oldest first.
std::vector<std::pair<Instant, std::filesystem::path>> backups_in(const std::filesystem::path& folder);
/// Whether the clock can be believed: the three newest backups before now follow each other, within four times
/// `every_h`. A clock that has jumped ahead leaves a gap behind it, and nothing may go by its word.
bool is_clock_borne_out(const BackupPlan& plan, Instant now);
/// Removes backups older than `keep_days`, but never the three newest, and none while the clock is not borne out; how
/// many. Those dated in the future, by a clock that was wrong, stay.
int remove_old_backups(const BackupPlan& plan, Instant now);
/// Removes copies that were kept before migrations, once they are older than so many days.
void remove_old_copies(const std::filesystem::path& store_file, int keep_days, Instant now);

/// Makes a backup whenever the newest is `every_h` old, on a thread of its own, and removes what had its time. One that
/// fails is logged and tried again after ten minutes.
class BackupSchedule {
 public:
  /// Throws `StoreError` where the key cannot be read.
  BackupSchedule(std::filesystem::path store_file, BackupPlan plan, const Clock& clock);
  ~BackupSchedule();
  BackupSchedule(const BackupSchedule&) = delete;
  BackupSchedule& operator=(const BackupSchedule&) = delete;

 private:
  void loop();
  bool due() const;
  void make_one();
  void remove_old();

  std::filesystem::path store_file_;
  BackupPlan plan_;
  BackupKey key_;
  const Clock& clock_;
  std::mutex mutex_;
  std::condition_variable woken_;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace cellarer::store
