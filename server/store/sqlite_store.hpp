// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <memory>

#include "server/store/store.hpp"

namespace cellarer::store {

/// The store in one SQLite file: WAL, synchronous FULL, one writer thread that commits what is waiting
/// in one transaction, readers beside it. Makes the file where there is none, and brings an older schema
/// up to date. Throws `StoreError` where the file cannot be opened, is no store, or is of a newer program.
std::unique_ptr<Store> open_sqlite_store(const std::filesystem::path& file);

/// The name of the store's file inside a data folder.
inline constexpr const char* file_name = "cellarer.sqlite";

}  // namespace cellarer::store
