// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "server/clock.hpp"
#include "server/store/reminder_store.hpp"

namespace cellarer::access {

/// Secret addresses of calendars. A calendar program cannot sign in: whoever has the address reads what it gives, and
/// nothing else. So its key has 160 random bits, is shown once, and is stored as a hash; a new one ends the one before.
/// The key stands in the query of the address, which is never logged. Thread-safe; on a worker.
class Feeds {
 public:
  Feeds(store::ReminderStore& store, const Clock& clock) : store_(store), clock_(clock) {}

  /// A new key; the one before of this agency, household (empty: of the agency itself) and purpose is ended.
  std::string make(const std::string& agency, const std::string& household, const std::string& purpose,
                   const std::string& account);
  /// Whose it is; none where the key is of no feed of this purpose. That it was read is noted, at most once a minute.
  std::optional<store::StoredFeed> open(const std::string& key, const std::string& purpose);
  /// False where there was none.
  bool end(const std::string& agency, const std::string& household, const std::string& purpose) {
    return store_.end_feed(agency, household, purpose);
  }

 private:
  store::ReminderStore& store_;
  const Clock& clock_;
};

}  // namespace cellarer::access
