// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

// import_handlers.cpp
Response post_import_check(const Context&, const Request&, const Parts&);
Response post_import(const Context&, const Request&, const Parts&);

// export_handlers.cpp
Response get_export_table(const Context&, const Request&, const Parts&);

}  // namespace cellarer::api
