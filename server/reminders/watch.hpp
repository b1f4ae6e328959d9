// SPDX-License-Identifier: MIT
#pragma once
#include <functional>

#include "server/reminders/due.hpp"
#include "server/store/reminder_store.hpp"

/// Which messages go to which phones: at most one a subject and changing time, to the first caregiver's phones (to all,
/// where none is the first's); while nothing is recorded, after the time that was asked for, one to the second's; and
/// when it is recorded, one that takes it away, to each phone that was sent it. If what was recorded is taken back, the
/// reminder comes again for the same time: no phone shows it any more.
namespace cellarer::reminders {

/// A household to be looked at.
struct Watched {
  std::string household;  ///< key
  std::string reference;  ///< as its page names it
  const nlohmann::json& forecast;
  const service::ReminderSettings& settings;
};

/// Queues in the store what is due now. Looking twice queues nothing twice.
void look(const Watched& watched, store::ReminderStore& store, Instant now);

/// Of a household that its agency has closed: what stands open is taken off the phones, and off what waits for them. It
/// may be raised again, for the same time too, once the household is open again.
void end_reminders(const std::string& household, const std::string& reference, store::ReminderStore& store,
                   Instant now);

/// One message to one phone that shows whether messages arrive.
void queue_trial(store::ReminderStore& store, const std::string& account, const std::string& reference, Instant now);

}  // namespace cellarer::reminders
