// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// The rows of the technician's bench (DEVELOPERS.md, "The technician's bench"), in the order of the document.
std::vector<Route> review_routes();
/// Those of profiles.
std::vector<Route> proposal_routes();

}  // namespace cellarer::api
