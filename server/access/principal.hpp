// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "model/quantities/time.hpp"
#include "server/access/role.hpp"

namespace cellarer::access {

/// A guest's hours by the household's clock, as minutes after midnight; `to` at or before `from` is the next day's.
struct Hours {
  int from_min = 0, to_min = 0;  ///< 0 to 1439
};

/// Who asks: the account behind a request's session, as the dispatcher hands it to handlers.
struct Principal {
  std::string account;        ///< base64url of 128 bits
  std::string agency;         ///< empty: the operator
  std::string household_key;  ///< of a phone; empty: staff
  Role role = Role::guest;
  std::string label;                            ///< of the phone or the way in: "Kitchen phone", never a name
  std::string session;                          ///< identifies the session; not its token
  Instant signed_in_at = {};                    ///< when the session was opened
  std::optional<Hours> hours = std::nullopt;    ///< a guest's
  Zone zone = nullptr;                          ///< the household's clock, for a guest
  std::optional<Instant> until = std::nullopt;  ///< when a guest's time is over
  std::optional<Instant> recovery_used_at = std::nullopt;  ///< when a recovery code last opened this account
};

}  // namespace cellarer::access
