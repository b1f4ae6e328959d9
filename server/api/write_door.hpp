// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"
#include "server/json/field.hpp"

/// What every write has in common before its own fact is read.
namespace cellarer::api {

/// A write that has passed the door.
struct Incoming {
  nlohmann::json document;  ///< the body
  std::string household;    ///< its key
  std::string who, key, account;

  service::Write write(const char* kind, Instant at) const;
};

/// The Idempotency-Key, 1 to 200 printable characters. Throws `missing-key`.
std::string require_key(const Request& request);

/// Key, household, JSON object, label of the phone. Throws `missing-key`, `unknown-household`, or
/// `json::Refused`.
Incoming open_door(const Context& context, const Request& request, const Parts& parts);

/// Whether a time has not come yet: by more than clocks differ.
bool lies_ahead(Instant at, Instant now);

/// A time more than ten minutes ahead is asked about, once: throws `future-date`, unless the body names it
/// in "confirmed".
void ask_about_future(const json::Field& body, Instant at, Instant now);

}  // namespace cellarer::api
