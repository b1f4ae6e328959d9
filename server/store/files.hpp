// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>

#include <SQLiteCpp/Database.h>

/// Files of the store as wholes: made under another name, on the disk before they get their own. Throws `StoreError`.
namespace cellarer::store {

/// Where a file is made before it is whole: "NAME.partial" beside it. Anything left there is removed.
std::filesystem::path begin_file(const std::filesystem::path& to);
/// Flushes the file made there, lets its owner alone read it, and gives it its name; the folder is flushed too.
void finish_file(const std::filesystem::path& partial, const std::filesystem::path& to);

/// Removes copies and backups that a crash left half made in that folder, plain ones of the store among them. Younger
/// than a day, one may be under way.
void remove_leftovers(const std::filesystem::path& folder);

/// SQLite's online backup into one file without a log beside it.
void copy_database(SQLite::Database& from, const std::filesystem::path& to);

/// A store that is there already, for reading; nothing is made.
SQLite::Database open_present(const std::filesystem::path& file);

}  // namespace cellarer::store
