// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

/// The checks of one kind: reads the fact, refusing what cannot be, and answers when it happened.
using Check = Instant (*)(const Context& context, const json::Field& body);

/// Whether a date to come is asked about: a plan lies there anyway.
enum class Future { asked_about, expected };

/// Checks one fact at the door, stores it, and answers it with what follows from it; while the disk is at it no thread
/// waits (`Response::after`).
Response record_fact(const Context& context, const Request& request, const Parts& parts, const char* what, Check check,
                     Future future = Future::asked_about);

/// What one needs to take back, or to end, an entry of that kind: the same as to record it.
access::Permission needed_to_record(const std::string& what);

/// The number of the entry that the body names.
std::int64_t named_entry(const json::Field& body);

}  // namespace cellarer::api
