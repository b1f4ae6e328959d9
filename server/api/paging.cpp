// SPDX-License-Identifier: MIT
#include "server/api/paging.hpp"

#include <charconv>

#include "server/json/field.hpp"

namespace cellarer::api {

namespace {

std::optional<std::int64_t> whole_number(const std::string& text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

}  // namespace

Page read_page(const Request& request) {
  Page page;
  if (const auto cursor = request.query.find("cursor"); cursor != request.query.end() && !cursor->second.empty()) {
    page.cursor = cursor->second;
  }
  const auto limit = request.query.find("limit");
  if (limit == request.query.end()) return page;
  const auto number = whole_number(limit->second);
  if (!number || *number < 1 || *number > 200) {
    throw json::Refused("out-of-range", "?limit", "expected a whole number from 1 to 200");
  }
  page.limit = static_cast<std::size_t>(*number);
  return page;
}

std::optional<std::int64_t> numeric_cursor(const Page& page) {
  if (!page.cursor) return std::nullopt;
  const auto number = whole_number(*page.cursor);
  if (!number || *number < 1)
    throw json::Refused("out-of-range", "?cursor", "expected what the page before named as next");
  return number;
}

}  // namespace cellarer::api
