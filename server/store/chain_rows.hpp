// SPDX-License-Identifier: MIT
#pragma once
#include <cstring>
#include <string>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include "server/store/chain_hash.hpp"
#include "server/store/store.hpp"

/// What the writing of the chain (chain.cpp) and its checking (chain_check.cpp) have in common.
namespace cellarer::store::chain {

template <std::size_t size>
void bind_bytes(SQLite::Statement& statement, int index, const std::array<std::uint8_t, size>& bytes) {
  statement.bind(index, bytes.data(), static_cast<int>(size));
}

/// All noughts where the column holds another number of bytes, which no hash matches.
template <std::size_t size>
std::array<std::uint8_t, size> fixed_bytes_of(const SQLite::Column& column) {
  std::array<std::uint8_t, size> bytes{};
  if (column.getBytes() == static_cast<int>(size)) std::memcpy(bytes.data(), column.getBlob(), size);
  return bytes;
}

/// A record, whether it is about to be written or was read back.
struct Record {
  std::int64_t at = 0;
  std::string who, action, subject, content;
  Salt salt{};
};

Digest hash_of(const Record& record);

/// What a link of a household stands for, from the columns reference, document, created_at of a row, beginning with
/// `first`. Not the agency's part of the key: households were without one once.
std::string household_content(SQLite::Statement& row, int first);
inline constexpr const char* household_columns = "h.reference, h.document, h.created_at";

/// The same of an entry, from the columns named here.
std::string entry_content(SQLite::Statement& row, int first);
std::string entry_content(const std::string& household, const StoredEntry& entry);
inline constexpr const char* entry_columns =
    "h.reference, e.kind, e.number, e.at, e.recorded_at, e.who, e.body, e.voids";

}  // namespace cellarer::store::chain
