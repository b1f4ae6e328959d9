// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

/// Between address and handler: who asks, and whether they may. The one place where permissions are asked.
namespace cellarer::api {

/// Lets the request through, with `principal` and `rotation_due` set, or throws `cross-site`, `unsupported-media-type`,
/// `not-signed-in`, `not-allowed`, `outside-hours`, `unknown-household`. Short: for I/O threads.
void admit(const Context& context, Request& request, const Match& found);

/// Throws `too-many-attempts` where too many came from this address.
void count_attempt(const Context& context, const Request& request);

/// For addresses with a secret in them: a wrong one counts as an attempt to come in. Throws `why` or
/// `too-many-attempts`.
[[noreturn]] void refuse_key(const Context& context, const Request& request, const Problem& why);

/// An attempt to come in that was not wrong is not counted.
void forgive_attempt(const Context& context, const Request& request, const Match& found, int status);

/// The parts as handlers take them: `household` is its key (server/household_key.hpp), of the signed-in agency.
Parts parts_of(const Request& request, const Match& found);

/// Where what is asked for depends on the body: throws `not-allowed`.
void require(const Request& request, access::Permission permission);

}  // namespace cellarer::api
