// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <string>

#include "server/push/encryption.hpp"
#include "server/push/vapid.hpp"

/// Hands one message to a phone's push service (RFC 8030), by libcurl: over TLS with a certificate that is checked,
/// without following anyone elsewhere, to addresses of the open network alone.
namespace cellarer::push {

/// How this service sends, as the configuration has it.
struct Terms {
  std::string contact;             ///< "mailto:..." or "https://...": whom a push service may write to
  std::string local_service = "";  ///< tests: one more allowed origin, "http://127.0.0.1:4711"
  std::string trusted = "";        ///< tests: a file of certificates, trusted instead of the system's
};

struct Delivery {
  std::string endpoint;
  PhoneKeys phone;
  std::string payload;           ///< at most `longest_payload`
  std::string topic;             ///< 1 to 32 letters of base64url; a newer one replaces what still waits there
  bool urgent = false;           ///< Urgency: high, for a phone that saves its battery too
  std::chrono::seconds keep{0};  ///< how long the push service may keep it (TTL)
};

struct Sent {
  enum class Is {
    taken,    ///< the push service has it; whether the phone gets it, and when, is not known
    gone,     ///< 404, 410: this subscription is no more
    later,    ///< busy, failing, or not reached: try again
    refused,  ///< it will not take this message
  } is = Is::later;
  int status = 0;                                                  ///< 0: nothing was heard
  std::optional<std::chrono::seconds> retry_after = std::nullopt;  ///< as it asked
  std::string why = "";                                            ///< without address or content
};

class Sender {
 public:
  Sender(Vapid vapid, Terms terms) : vapid_(std::move(vapid)), terms_(std::move(terms)) {}

  /// Waits for the answer, at most 15 s. For one thread of its own.
  Sent send(const Delivery& delivery, Instant now) const;

 private:
  Vapid vapid_;
  Terms terms_;
};

}  // namespace cellarer::push
