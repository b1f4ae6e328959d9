// SPDX-License-Identifier: MIT
#include "tests/faults/fault_vfs.hpp"

#include <sqlite3.h>

#include <fstream>
#include <stdexcept>

namespace cellarer::testing {

namespace {

/// Directly before the file of the usual layer, in the memory that SQLite hands over.
struct Layered {
  sqlite3_file base;
  const char* name;  ///< SQLite keeps it as long as the file is open; none for a temporary one
  sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};

Layered& layered(sqlite3_file* file) { return *reinterpret_cast<Layered*>(file); }
sqlite3_file* real(sqlite3_file* file) { return layered(file).real(); }
std::string name(sqlite3_file* file) { return layered(file).name == nullptr ? "" : layered(file).name; }
sqlite3_vfs* usual = nullptr;
FaultVfs* faults = nullptr;

int close_file(sqlite3_file* file) { return real(file)->pMethods->xClose(real(file)); }

int read(sqlite3_file* file, void* to, int count, sqlite3_int64 offset) {
  if (faults->fails(DiskFault::read_error)) return SQLITE_IOERR_READ;
  return real(file)->pMethods->xRead(real(file), to, count, offset);
}

int write(sqlite3_file* file, const void* bytes, int count, sqlite3_int64 offset) {
  bool shortened = false;
  if (faults->fails_to_write(shortened)) {
    if (!shortened) return SQLITE_FULL;
    if (real(file)->pMethods->xWrite(real(file), bytes, count / 2, offset) == SQLITE_OK)
      faults->wrote(name(file), offset, bytes, count / 2);
    return SQLITE_FULL;
  }
  if (faults->fails(DiskFault::write_error)) return SQLITE_IOERR_WRITE;
  const int answer = real(file)->pMethods->xWrite(real(file), bytes, count, offset);
  if (answer == SQLITE_OK) faults->wrote(name(file), offset, bytes, count);
  return answer;
}

int truncate(sqlite3_file* file, sqlite3_int64 size) {
  const int answer = real(file)->pMethods->xTruncate(real(file), size);
  if (answer == SQLITE_OK) faults->cut(name(file), size);
  return answer;
}

int flush(sqlite3_file* file, int flags) {
  if (faults->fails(DiskFault::flush_error)) return SQLITE_IOERR_FSYNC;
  const int answer = real(file)->pMethods->xSync(real(file), flags);
  if (answer == SQLITE_OK) faults->flushed(name(file));
  return answer;
}

int size(sqlite3_file* file, sqlite3_int64* to) { return real(file)->pMethods->xFileSize(real(file), to); }
int lock(sqlite3_file* file, int level) { return real(file)->pMethods->xLock(real(file), level); }
int unlock(sqlite3_file* file, int level) { return real(file)->pMethods->xUnlock(real(file), level); }
int reserved(sqlite3_file* file, int* to) { return real(file)->pMethods->xCheckReservedLock(real(file), to); }
int control(sqlite3_file* file, int what, void* with) {
  return real(file)->pMethods->xFileControl(real(file), what, with);
}
int sector(sqlite3_file* file) { return real(file)->pMethods->xSectorSize(real(file)); }
int traits(sqlite3_file* file) { return real(file)->pMethods->xDeviceCharacteristics(real(file)); }
int shm_map(sqlite3_file* file, int page, int bytes, int extend, void volatile** to) {
  return real(file)->pMethods->xShmMap(real(file), page, bytes, extend, to);
}
int shm_lock(sqlite3_file* file, int offset, int count, int flags) {
  return real(file)->pMethods->xShmLock(real(file), offset, count, flags);
}
void shm_barrier(sqlite3_file* file) { real(file)->pMethods->xShmBarrier(real(file)); }
int shm_unmap(sqlite3_file* file, int remove) { return real(file)->pMethods->xShmUnmap(real(file), remove); }

// Version 2: shared memory for the log's index, and no memory-mapped reads past us.
const sqlite3_io_methods methods{2,        close_file,  read,      write,   truncate, flush,  size,
                                 lock,     unlock,      reserved,  control, sector,   traits, shm_map,
                                 shm_lock, shm_barrier, shm_unmap, nullptr, nullptr};

int open_file(sqlite3_vfs*, const char* file_name, sqlite3_file* file, int flags, int* out_flags) {
  Layered& ours = layered(file);
  ours.name = file_name;
  const int answer = usual->xOpen(usual, file_name, ours.real(), flags, out_flags);
  ours.base.pMethods = ours.real()->pMethods == nullptr ? nullptr : &methods;
  if (answer == SQLITE_OK && file_name != nullptr) faults->opened(file_name);
  return answer;
}

int remove_file(sqlite3_vfs*, const char* file_name, int flush_folder) {
  const int answer = usual->xDelete(usual, file_name, flush_folder);
  if (answer == SQLITE_OK) faults->removed(file_name);
  return answer;
}

}  // namespace

FaultVfs& FaultVfs::installed() {
  static FaultVfs layer;
  static sqlite3_vfs table;
  if (faults != nullptr) return layer;
  usual = sqlite3_vfs_find(nullptr);
  table = *usual;  // what is not named below goes straight to the usual one
  table.zName = "faults";
  table.szOsFile = static_cast<int>(sizeof(Layered)) + usual->szOsFile;
  table.xOpen = open_file;
  table.xDelete = remove_file;
  faults = &layer;
  if (sqlite3_vfs_register(&table, 1) != SQLITE_OK) throw std::runtime_error("SQLite takes no layer");
  return layer;
}

void FaultVfs::arm(DiskFault fault, int nth, int times) {
  const std::lock_guard guard(mutex_);
  fault_ = fault;
  before_ = nth - 1;
  times_ = times;
  failed_ = 0;
}

int FaultVfs::failed() const {
  const std::lock_guard guard(mutex_);
  return failed_;
}

/// With the mutex held.
bool FaultVfs::counts_down(DiskFault kind) {
  if (fault_ != kind) return false;
  if (before_ > 0) {
    --before_;
    return false;
  }
  if (times_ == 0) return false;
  --times_;
  ++failed_;
  return true;
}

bool FaultVfs::fails(DiskFault kind) {
  const std::lock_guard guard(mutex_);
  return counts_down(kind);
}

bool FaultVfs::fails_to_write(bool& shortened) {
  const std::lock_guard guard(mutex_);
  shortened = fault_ == DiskFault::short_write;
  return counts_down(shortened ? DiskFault::short_write : DiskFault::full);
}

std::int64_t FaultVfs::flushes() const {
  const std::lock_guard guard(mutex_);
  return flushes_;
}

std::size_t FaultVfs::unflushed(const std::string& ending) const {
  const std::lock_guard guard(mutex_);
  std::size_t bytes = 0;
  for (const auto& [file, remembered] : files_) {
    if (!file.ends_with(ending)) continue;
    for (const Change& change : remembered.since) bytes += change.bytes.size();
  }
  return bytes;
}

void FaultVfs::forget() {
  const std::lock_guard guard(mutex_);
  files_.clear();
}

void FaultVfs::apply(std::string& content, const Change& change) {
  const auto offset = static_cast<std::size_t>(change.offset);
  if (change.cuts) {
    content.resize(offset);
    return;
  }
  if (content.size() < offset + change.bytes.size()) content.resize(offset + change.bytes.size());
  content.replace(offset, change.bytes.size(), change.bytes);
}

void FaultVfs::wrote(const std::string& file, std::int64_t offset, const void* bytes, int count) {
  const std::lock_guard guard(mutex_);
  files_[file].since.push_back({offset, std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(count))});
}

void FaultVfs::cut(const std::string& file, std::int64_t new_size) {
  const std::lock_guard guard(mutex_);
  files_[file].since.push_back({new_size, "", true});
}

void FaultVfs::flushed(const std::string& file) {
  const std::lock_guard guard(mutex_);
  ++flushes_;
  auto& remembered = files_[file];
  for (const Change& change : remembered.since) apply(remembered.flushed, change);
  remembered.since.clear();
}

void FaultVfs::opened(const std::string& file) {
  const std::lock_guard guard(mutex_);
  if (files_.count(file) > 0) return;
  std::ifstream stream(file, std::ios::binary);
  files_[file].flushed.assign(std::istreambuf_iterator<char>(stream), {});
}

void FaultVfs::removed(const std::string& file) {
  const std::lock_guard guard(mutex_);
  files_.erase(file);
}

void FaultVfs::cut_power(const std::filesystem::path& from, const std::filesystem::path& folder,
                         std::mt19937& chance) const {
  const std::lock_guard guard(mutex_);
  for (const auto& [file, remembered] : files_) {
    if (!file.starts_with(from.string())) continue;
    std::string content = remembered.flushed;
    for (const Change& change : remembered.since) {
      if (chance() % 2 == 0) apply(content, change);
    }
    std::ofstream(folder / std::filesystem::path(file).filename(), std::ios::binary) << content;
  }
}

}  // namespace cellarer::testing
