// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// The rows of the table of routes about coming in: sessions, invitations, phones, accounts, agencies. None takes an
/// Idempotency-Key: done twice, each does no more, or is refused.
std::vector<Route> access_routes();

}  // namespace cellarer::api
