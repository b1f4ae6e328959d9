// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "server/access/principal.hpp"
#include "server/json/field.hpp"
#include "server/push/encryption.hpp"

/// What is sent to invite, to come in and to be pushed to, read by itself: no more than the body is needed. Each
/// refuses what cannot be (`json::Refused`).
namespace cellarer::api {

/// The name of a role that may be invited to.
access::Role read_role(const json::Field& role);

/// A guest reads and records in set hours by the household's clock, and until it is over.
struct GuestTerms {
  std::optional<access::Hours> hours;
  Instant until;
};
/// {"hours"?: {"from", "to"}, "until"}
GuestTerms read_guest_terms(const json::Field& body);

struct Acceptance {
  std::string code, label;  ///< label empty: as it was invited
};
/// {"code", "label"?}
Acceptance read_acceptance(const json::Field& body);

/// A phone that lets itself be pushed to.
struct PushWish {
  std::string endpoint;
  push::PhoneKeys keys;
  const char* part = "first";  ///< "first" or "second"
};
/// {"endpoint", "keys": {"p256dh", "auth"}, "part"}; `local_service`: of a test's configuration (push/endpoint.hpp).
PushWish read_push_wish(const json::Field& body, const std::string& local_service);

}  // namespace cellarer::api
