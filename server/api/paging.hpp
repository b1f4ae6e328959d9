// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "server/api/message.hpp"

/// Lists come in pages. `limit` is 1 to 200, 50 where it is not given; `cursor` is what the page before named
/// as `next`, and means nothing to the client; of the audit trail alone it is a number above those of the links told,
/// so that a link is found by its number.
namespace cellarer::api {

struct Page {
  std::optional<std::string> cursor;
  std::size_t limit = 50;
};

/// Throws `json::Refused` with place "?limit".
Page read_page(const Request& request);

/// A cursor that is a number. Throws `json::Refused` with place "?cursor".
std::optional<std::int64_t> numeric_cursor(const Page& page);

}  // namespace cellarer::api
