// SPDX-License-Identifier: MIT
#pragma once
#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

namespace cellarer::testing {

/// Changes a store as no service does: while none runs on it.
inline void change_by_hand(const std::string& data, const std::string& sql) {
  const auto file = std::filesystem::path(data) / "cellarer.sqlite";
  SQLite::Database(file.string(), SQLite::OPEN_READWRITE).exec(sql);
}

}  // namespace cellarer::testing
