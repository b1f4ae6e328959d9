// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <string>

#include "model/quantities/time.hpp"
#include "server/push/p256.hpp"

/// Who sends, told to push services by a signature (RFC 8292, VAPID): a JSON Web Token (RFC 7519) signed by ES256 (RFC
/// 7518, 3.4). A phone subscribes with this public key, and its push service takes messages signed by it alone: so the
/// key must stay the same, or all phones have to subscribe again.
namespace cellarer::push {

class Vapid {
 public:
  explicit Vapid(KeyPair pair) : pair_(std::move(pair)) {}

  /// From the file; where there is none, a new key is drawn and written there, for its owner alone. Throws
  /// std::runtime_error where the file cannot be had or holds no key.
  static Vapid kept_in(const std::filesystem::path& file);

  /// The header field Authorization: "vapid t=..., k=...".
  /// `audience`: "https://push.example.net"; `contact`: "mailto:..." or "https://..."; `expires`: at most 24 h ahead.
  std::string authorization(const std::string& audience, const std::string& contact, Instant expires) const;

  /// 65 bytes; as base64url what a page subscribes with (applicationServerKey).
  const std::string& public_key() const { return pair_.public_key; }

 private:
  KeyPair pair_;
};

}  // namespace cellarer::push
