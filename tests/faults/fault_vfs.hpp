// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <filesystem>
#include <map>
#include <mutex>
#include <random>
#include <string>
#include <vector>

/// A layer below SQLite (sqlite3_vfs, sqlite.org/vfs.html) that passes everything on to the usual one, makes chosen
/// operations fail, and remembers what a disk would still hold if the power went now: of every file, what stood in it
/// at its last flush.
namespace cellarer::testing {

enum class DiskFault {
  none,
  full,         ///< every write fails: no space
  short_write,  ///< every write puts down half of its bytes and fails: no space
  write_error,  ///< a write fails
  flush_error,  ///< a flush fails
  read_error    ///< a read fails
};

class FaultVfs {
 public:
  /// Registers it, as what every database opened from now on uses. One for the whole program.
  static FaultVfs& installed();

  /// From the nth operation of that kind on (1: the next), `times` of them fail.
  void arm(DiskFault fault, int nth, int times);
  void disarm() { arm(DiskFault::none, 1, 0); }
  /// Operations that failed since it was armed.
  int failed() const;

  /// Flushes of any file so far.
  std::int64_t flushes() const;
  /// Bytes written to files of that name's ending since their last flush.
  std::size_t unflushed(const std::string& ending) const;

  /// Forgets what it remembers: before a test with files of its own.
  void forget();
  /// Puts what the disk would hold into `folder`, where `from` stands for the files' own. Writes that were not flushed
  /// are there or not as `chance` says, each for itself: a disk may order them as it likes.
  void cut_power(const std::filesystem::path& from, const std::filesystem::path& folder, std::mt19937& chance) const;

  // What the layer calls.
  bool fails(DiskFault kind);
  bool fails_to_write(bool& shortened);
  void wrote(const std::string& file, std::int64_t offset, const void* bytes, int count);
  void cut(const std::string& file, std::int64_t size);
  void flushed(const std::string& file);
  void opened(const std::string& file);
  void removed(const std::string& file);

 private:
  /// One change of a file that is not on the disk yet; without bytes: the file's new size.
  struct Change {
    std::int64_t offset = 0;
    std::string bytes;
    bool cuts = false;
  };
  struct Remembered {
    std::string flushed;
    std::vector<Change> since;
  };
  static void apply(std::string& content, const Change& change);
  bool counts_down(DiskFault kind);

  mutable std::mutex mutex_;
  DiskFault fault_ = DiskFault::none;
  int before_ = 0, times_ = 0, failed_ = 0;
  std::int64_t flushes_ = 0;
  std::map<std::string, Remembered> files_;
};

}  // namespace cellarer::testing
