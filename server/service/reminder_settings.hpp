// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <cstdint>
#include <optional>

#include "server/json/field.hpp"

namespace cellarer::service {

/// What a household wants to be reminded of, and how; as nobody has set it, until somebody has. Times of day are the
/// household's.
struct ReminderSettings {
  struct Quiet {
    std::chrono::minutes from, to;  ///< over midnight where `to` is not after `from`
  };

  bool changes = true;  ///< cells to change
  bool orders = true;   ///< stock to order
  /// On the day of the change; none: four hours before the changing time.
  std::optional<std::chrono::minutes> at = std::nullopt;
  /// Never silences "change before tonight" or "change now".
  std::optional<Quiet> quiet = Quiet{std::chrono::hours(22), std::chrono::hours(7)};
  bool plain = false;  ///< names the side and what is to do, on a lock screen too
  /// Unanswered for so long: one to the second caregiver. None: never.
  std::optional<std::chrono::minutes> second_after = std::chrono::minutes(60);
  std::int64_t entry = 0;  ///< in which it was set; 0: nobody has
};

/// {"what": ["changes", "orders"], "at", "quiet": {"from", "to"}, "words": "neutral | plain", "second_after_min"}.
ReminderSettings read_reminder_settings(const json::Field& body);

/// The same, written.
nlohmann::json reminder_settings_document(const ReminderSettings& settings);

}  // namespace cellarer::service
