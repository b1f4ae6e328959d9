// SPDX-License-Identifier: MIT
#include "server/store/chain_rows.hpp"

#include "server/household_key.hpp"
#include "server/store/chain.hpp"

namespace cellarer::store::chain {

Digest hash_of(const Record& record) {
  return content_hash(record.salt,
                      fields({std::to_string(record.at), record.who, record.action, record.subject, record.content}));
}

std::string household_content(SQLite::Statement& row, int first) {
  const auto text = [&](int column) { return row.getColumn(first + column).getString(); };
  return fields({reference_of(text(0)), text(1), text(2)});
}

std::string entry_content(SQLite::Statement& row, int first) {
  const auto text = [&](int column) { return row.getColumn(first + column).getString(); };
  return fields({reference_of(text(0)), text(1), text(2), text(3), text(4), text(5), text(6), text(7)});
}

std::string entry_content(const std::string& household, const StoredEntry& entry) {
  const auto number = [](std::int64_t value) { return std::to_string(value); };
  const auto seconds = [&](Instant at) { return number(at.time_since_epoch().count()); };
  return fields({reference_of(household), entry.kind, number(entry.number), seconds(entry.at),
                 seconds(entry.recorded_at), entry.who, entry.body, entry.voids ? number(*entry.voids) : ""});
}

}  // namespace cellarer::store::chain
