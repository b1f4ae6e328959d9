// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

// lot_handlers.cpp
Response get_lots(const Context&, const Request&, const Parts&);
Response get_lot(const Context&, const Request&, const Parts&);
Response get_lot_lines(const Context&, const Request&, const Parts&);
Response get_recall_calls(const Context&, const Request&, const Parts&);
Response get_recall_call_lines(const Context&, const Request&, const Parts&);
Response get_lot_corrections(const Context&, const Request&, const Parts&);

// recall_handlers.cpp
Response post_recall(const Context&, const Request&, const Parts&);
Response post_recall_undo(const Context&, const Request&, const Parts&);
Response post_recall_call(const Context&, const Request&, const Parts&);
Response post_lot_correction(const Context&, const Request&, const Parts&);

}  // namespace cellarer::api
