// SPDX-License-Identifier: MIT
#pragma once
#include <memory>

#include "server/store/memory_store.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/temporary_folder.hpp"

/// The engines behind server/store/store.hpp, each of which has to keep the contracts of tests/server.
namespace cellarer::testing {

struct Memory {
  std::unique_ptr<store::Store> store = store::open_memory_store();
};

struct Sqlite {
  TemporaryFolder folder;
  std::unique_ptr<store::Store> store = store::open_sqlite_store(folder.path() / store::file_name);
};

/// So many seconds after 2027-01-15 08:00 UTC.
inline Instant at_second(int after) { return Instant(std::chrono::seconds(1'800'000'000 + after)); }

}  // namespace cellarer::testing
