// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <mutex>
#include <string>

#include "server/clock.hpp"

namespace cellarer::access {

/// Challenges that passkeys sign. A challenge carries its own proof, so that a flood of requests for one fills no
/// memory and displaces nobody's:
///
///     challenge = expiry[8] || nonce[8] || MAC[16]        MAC = HMAC-SHA-512/256(key, purpose, expiry, nonce), cut
///
/// The key is drawn at the start of the service and kept nowhere. A challenge is good for five minutes and once: those
/// that were used are remembered until then. Thread-safe.
class Challenges {
 public:
  explicit Challenges(const Clock& clock);

  /// In base64url, 43 letters. `purpose` says what for, and for whom: "sign-in", "invitation <hash>".
  std::string issue(const std::string& purpose);
  /// Whether it was issued for that, is not over, and was not used; it then is.
  bool take(const std::string& challenge, const std::string& purpose);

 private:
  std::string proof(const std::string& purpose, const std::string& expiry_and_nonce) const;

  const Clock& clock_;
  std::string key_;
  std::mutex mutex_;
  std::map<std::string, Instant> used_;  ///< until when it would be good
};

}  // namespace cellarer::access
