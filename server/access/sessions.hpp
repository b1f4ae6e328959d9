// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <mutex>
#include <unordered_map>

#include "server/access/principal.hpp"
#include "server/clock.hpp"
#include "server/store/access_store.hpp"

namespace cellarer::access {

/// What a token is worth now.
struct Standing {
  enum class Is { unknown, live, ended } is = Is::unknown;
  std::optional<Principal> principal = std::nullopt;  ///< live
  bool rotation_due = false;                          ///< live
  bool outside_hours = false;                         ///< live: a guest, but not now
  std::string ended_why = "";                         ///< ended: "signed-out", "by-phone", "sealed-code", "over", ...
  Instant ended_at = {};                              ///< ended
};

/// A token as it goes into a cookie, once.
struct Token {
  std::string text;
  std::chrono::seconds good_for{0};
};

/// All sessions in memory, so that a known phone is recognised without the store, whatever else goes on; a token that
/// is not here is wrong. What others write (`cellarer account`, in another process) is heeded at the next `refresh`.
///
/// A token is replaced after a day of use. The one before stays good until its follower was seen, and five minutes
/// more: an answer that is lost on its way signs nobody out. Thread-safe.
class Sessions {
 public:
  /// Reads all sessions.
  Sessions(store::AccessStore& store, const Clock& clock);

  /// A short look into memory: for I/O threads.
  Standing check(const std::string& token);

  /// A session to be stored for this account, with its token.
  static std::pair<store::StoredSession, Token> draw(const std::string& account, Role role, Instant now);
  /// Whose a session is, by its identifier; none where it has ended.
  std::optional<Principal> owner(const std::string& session);
  static Principal principal_of(const store::SessionRow& row);
  /// Takes up what the store made of it.
  void heed(const store::SessionRow& row);
  /// The same for all that changed in the store since the last time.
  void heed_changes();
  /// A new token for the session that this one belongs to; none where another request has just made one. On a worker.
  std::optional<Token> rotate(const std::string& token);

  /// Tells the store who was seen, at most once a minute, and heeds what changed there. On a worker, every few seconds.
  void refresh(bool all_seen = false);

 private:
  struct Entry {
    store::SessionRow row;
    Principal principal;
    bool to_tell = false;
  };
  using Shared = std::shared_ptr<Entry>;

  void put(const store::SessionRow& row);
  void forget(const Entry& entry);
  std::vector<store::Seen> seen(bool all);

  store::AccessStore& store_;
  const Clock& clock_;
  std::mutex mutex_;
  std::mutex rotating_;  ///< one at a time, so that two requests make one new token
  std::mutex heeding_;
  std::unordered_map<std::string, Shared> by_hash_;
  std::unordered_map<std::string, Shared> by_id_;
  std::int64_t heeded_ = -1;  ///< the newest `changed`
  Instant told_at_ = {};
};

}  // namespace cellarer::access
