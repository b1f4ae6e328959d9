// SPDX-License-Identifier: MIT
// The disk fails below SQLite while 16 clients write: what was acknowledged is there, once; the file is whole; and when
// the disk works again, so does the store, without being started anew.
#include "server/store/maintenance.hpp"
#include "tests/faults/fault_vfs.hpp"
#include "tests/faults/store_load.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using namespace cellarer::store;
using namespace cellarer::testing;

namespace {

struct Kind {
  DiskFault fault;
  const char* name;
  int most_times;  ///< operations that fail in a row, at most
};

constexpr Kind kinds[] = {{DiskFault::full, "disk full", 400},
                          {DiskFault::short_write, "disk full in the middle of a write", 400},
                          {DiskFault::write_error, "write error", 3},
                          {DiskFault::flush_error, "flush error", 3},
                          {DiskFault::read_error, "read error", 3}};

/// One store, so many faults while it is written to. A try in which nothing came to fail is no fault: it is made again.
FaultRow run_faults(const Kind& kind, int times, std::mt19937& chance) {
  auto& disk = FaultVfs::installed();
  disk.forget();
  FaultRow row{kind.name};
  const TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  std::set<std::string> acknowledged;
  {
    const auto store = open_sqlite_store(file);
    StoreLoad load(*store);
    load.wait_for(20);
    for (int tries = 0; row.times < times && tries < 3 * times; ++tries) {
      const int nth = 1 + static_cast<int>(chance() % 60);
      disk.arm(kind.fault, nth, 1 + static_cast<int>(chance() % static_cast<unsigned>(kind.most_times)));
      for (int waits = 0; disk.failed() == 0 && waits < 500; ++waits) {
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
      }
      row.times += disk.failed() > 0 ? 1 : 0;
      std::this_thread::sleep_for(std::chrono::milliseconds(chance() % 10));
      disk.disarm();
      load.wait_for(20);  // it goes on by itself
    }
    load.end();
    CHECK(row.times == times);
    acknowledged = load.acknowledged().names();
    CHECK(store->ready());
    compare(row, acknowledged, names_in(*store));
  }
  const auto again = open_sqlite_store(file);
  compare(row, acknowledged, names_in(*again));
  CHECK(check(file).faults == std::vector<std::string>{});
  row.acknowledged = static_cast<std::int64_t>(acknowledged.size());
  print_at_end(row);
  return row;
}

/// The power goes while 16 clients write; the disk had written what it liked of what was not flushed.
FaultRow cut_power(int times) {
  auto& disk = FaultVfs::installed();
  std::mt19937 chance(20260302);
  FaultRow row{"power cut"};
  for (int i = 0; i < times; ++i) {
    disk.disarm();
    disk.forget();
    const TemporaryFolder folder, after;
    std::set<std::string> acknowledged;
    {
      const auto store = open_sqlite_store(folder.path() / file_name);
      StoreLoad load(*store);
      load.wait_for(1 + chance() % 200);
      acknowledged = load.acknowledged().names();  // before the cut: all of these were promised
      disk.cut_power(folder.path(), after.path(), chance);
    }
    const auto file = after.path() / file_name;
    {
      const auto again = open_sqlite_store(file);
      compare(row, acknowledged, names_in(*again));
    }
    CHECK(check(file).faults == std::vector<std::string>{});
    ++row.times;
    row.acknowledged += static_cast<std::int64_t>(acknowledged.size());
  }
  print_at_end(row);
  return row;
}

}  // namespace

TEST_CASE("a write is acknowledged after it was flushed to the disk, not before", "[faults]") {
  auto& disk = FaultVfs::installed();
  disk.disarm();
  disk.forget();
  const TemporaryFolder folder;
  const auto store = open_sqlite_store(folder.path() / file_name);
  const Instant noon{std::chrono::seconds(1'772'366'400)};
  store->create_household({"agency/h-1", "{}", "k", noon});
  for (int i = 0; i < 50; ++i) {
    const auto before = disk.flushes();
    store->append({"agency/h-1", "reading", noon, noon, "", "{}", "k" + std::to_string(i)});
    CHECK(disk.flushes() > before);
    CHECK(disk.unflushed("-wal") == 0);
  }
}

TEST_CASE("a full disk, and errors of writing, flushing and reading, lose nothing", "[faults]") {
  std::mt19937 chance(20260301);
  for (const Kind& kind : kinds) {
    const auto row = run_faults(kind, 20, chance);
    CAPTURE(kind.name);
    CHECK(row.lost == 0);
    CHECK(row.doubled == 0);
  }
}

TEST_CASE("a full disk, and errors of writing, flushing and reading, lose nothing, tried longer",
          "[.long][long][faults]") {
  std::mt19937 chance(20260304);
  for (const Kind& kind : kinds) {
    const auto row = run_faults(kind, 500, chance);
    CAPTURE(kind.name);
    CHECK(row.lost == 0);
    CHECK(row.doubled == 0);
  }
}

TEST_CASE("a power cut loses nothing that was acknowledged", "[faults]") {
  const auto row = cut_power(20);
  CHECK(row.lost == 0);
  CHECK(row.doubled == 0);
}

TEST_CASE("a power cut loses nothing that was acknowledged, tried longer", "[.long][long][faults]") {
  const auto row = cut_power(500);
  CHECK(row.lost == 0);
  CHECK(row.doubled == 0);
}
