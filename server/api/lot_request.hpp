// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/lot_documents.hpp"
#include "server/api/routes.hpp"

namespace cellarer::api {

/// Labels of an agency's ways in.
LabelOf labels_of(const Context& context);

}  // namespace cellarer::api
