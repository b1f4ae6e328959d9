// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <set>
#include <vector>

#include <nlohmann/json.hpp>

#include "model/quantities/time.hpp"
#include "server/store/store.hpp"

namespace cellarer::service {

/// What entries say of earlier ones, by the number of the entry they are about. What was taken back says nothing; of
/// two that say something of the same, the newer one holds.
struct Said {
  std::map<std::int64_t, std::int64_t> same;  ///< the second change to the answer
  std::set<std::int64_t> different;
  std::map<std::int64_t, Instant> still;      ///< what is paced more, to when it was said to go on
  std::map<std::int64_t, std::string> ended;  ///< to the end, as it was sent
};

Said what_entries_say(const std::vector<store::StoredEntry>& entries);

/// The body of what lasts (paced, paced more, switched off, a stay), with its end in `to`. Throws `json::Refused` where
/// its own reader refuses it so.
nlohmann::json ended(const std::string& kind, nlohmann::json body, const std::string& to);

/// The body of an entry, with its end in `to` where one was recorded. An end with which the entry could not be read
/// does not count: a store may hold one from before the door refused it.
nlohmann::json with_end(const Said& said, const store::StoredEntry& entry);

}  // namespace cellarer::service
