// SPDX-License-Identifier: MIT
#include "server/reminders/watch.hpp"

#include <algorithm>

#include "server/access/secrets.hpp"
#include "server/reminders/words.hpp"

namespace cellarer::reminders {

using std::chrono::hours;
using store::NewMessage;
using store::StoredReminder;
using store::StoredSubscription;

namespace {

constexpr std::size_t id_bytes = 16, topic_letters = 24;  // of a topic at most 32 (RFC 8030, 5.4)
constexpr auto kept_after_due = hours(1);
constexpr auto order_kept = hours(48), trial_kept = hours(1), gone_kept = hours(12);
constexpr auto remembered = hours(24 * 7);

std::string topic_of(const std::string& household, const std::string& subject) {
  return access::base64url(access::sha256(household + "\n" + subject)).substr(0, topic_letters);
}

/// Writes the messages of one household.
class Messages {
 public:
  Messages(std::string household, std::string reference, Instant now)
      : household_(std::move(household)), reference_(std::move(reference)), now_(now) {}

  NewMessage one(const std::string& account, const std::string& reminder, const std::string& subject,
                 nlohmann::json said, bool urgent, Instant expires_at) const {
    said.update({{"reminder", reminder},
                 {"household", reference_},
                 {"tag", subject},
                 {"title", title},
                 {"urgent", urgent},
                 {"url", "/h/" + reference_}});
    return {account, topic_of(household_, subject), said.dump(), urgent, expires_at, now_};
  }

  /// To each phone that was sent it; what still waits for a phone is replaced by this, as it has the same topic.
  std::vector<NewMessage> gone(store::ReminderStore& store, const StoredReminder& reminder, const char* text) const {
    std::vector<NewMessage> messages;
    for (const auto& account : store.phones_of(reminder.id)) {
      const nlohmann::json said{{"kind", "gone"}, {"body", text}};
      messages.push_back(one(account, reminder.id, reminder.subject, said, false, now_ + gone_kept));
    }
    return messages;
  }

 private:
  std::string household_, reference_;
  Instant now_;
};

class Look {
 public:
  Look(const Watched& watched, store::ReminderStore& store, Instant now)
      : watched_(watched),
        store_(store),
        now_(now),
        zone_(zone_of(watched.forecast)),
        messages_(watched.household, watched.reference, now) {}

  void all() {
    const auto dues = due_of(watched_.forecast, watched_.settings);
    const auto open = store_.open_reminders(watched_.household);
    for (const StoredReminder& one : open) {
      const auto due =
          std::find_if(dues.begin(), dues.end(), [&](const Due& other) { return other.subject == one.subject; });
      if (due == dues.end()) {
        store_.take_back(one.id, messages_.gone(store_, one, recorded_text));  // what is taken back brings it again
      } else if (due->due != one.due) {
        store_.close(one.id, now_);  // its time has passed: the next one takes its place on the phones
      } else {
        ask_second(one, *due);
      }
    }
    for (const Due& due : dues) {
      const bool stands = std::any_of(open.begin(), open.end(), [&](const StoredReminder& one) {
        return one.subject == due.subject && one.due == due.due;
      });
      if (!stands && is_time(due, watched_.settings, zone_, now_)) raise(due);
    }
    store_.forget_closed(now_ - remembered);
  }

 private:
  const Watched& watched_;
  store::ReminderStore& store_;
  Instant now_;
  Zone zone_;
  Messages messages_;

  NewMessage reminding(const std::string& account, const std::string& reminder, const Due& due, bool second) const {
    const Instant expires = due.is == Due::Is::order ? now_ + order_kept : std::max(due.due, now_) + kept_after_due;
    const auto text = message_text(due, watched_.settings.plain, second, zone_);
    return messages_.one(account, reminder, due.subject, {{"kind", "reminder"}, {"body", text}}, due.urgent, expires);
  }

  void raise(const Due& due) {
    const auto phones = store_.subscriptions(watched_.household);
    if (phones.empty()) return;
    const bool any_first =
        std::any_of(phones.begin(), phones.end(), [](const auto& phone) { return phone.part == "first"; });
    const auto id = access::random_token(id_bytes);
    std::vector<NewMessage> messages;
    for (const StoredSubscription& phone : phones) {
      if (!any_first || phone.part == "first") messages.push_back(reminding(phone.account, id, due, false));
    }
    store_.raise({id, watched_.household, due.subject, due.due, now_}, messages);
  }

  void ask_second(const StoredReminder& reminder, const Due& due) {
    const auto& after = watched_.settings.second_after;
    const bool waits = due.urgent && after && !reminder.seconded_at;
    if (!waits || now_ < reminder.raised_at + *after || now_ >= reminder.due) return;
    const auto sent = store_.phones_of(reminder.id);
    std::vector<NewMessage> messages;
    for (const StoredSubscription& phone : store_.subscriptions(watched_.household)) {
      const bool has_it = std::find(sent.begin(), sent.end(), phone.account) != sent.end();
      if (phone.part == "second" && !has_it) messages.push_back(reminding(phone.account, reminder.id, due, true));
    }
    if (!messages.empty()) store_.second(reminder.id, now_, messages);
  }
};

}  // namespace

void look(const Watched& watched, store::ReminderStore& store, Instant now) { Look(watched, store, now).all(); }

void end_reminders(const std::string& household, const std::string& reference, store::ReminderStore& store,
                   Instant now) {
  const Messages messages(household, reference, now);
  for (const StoredReminder& one : store.open_reminders(household))
    store.take_back(one.id, messages.gone(store, one, ended_text));
}

void queue_trial(store::ReminderStore& store, const std::string& account, const std::string& reference, Instant now) {
  const nlohmann::json said{{"kind", "trial"},        {"reminder", access::random_token(id_bytes)},
                            {"household", reference}, {"tag", "trial"},
                            {"title", title},         {"body", trial_text},
                            {"urgent", false},        {"url", "/h/" + reference}};
  store.queue({account, topic_of(account, "trial"), said.dump(), false, now + trial_kept, now});
}

}  // namespace cellarer::reminders
