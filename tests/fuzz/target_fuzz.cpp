// SPDX-License-Identifier: MIT
// The address of a request: path, query, and the page of a list.
#include "server/api/paging.hpp"
#include "server/http/target.hpp"
#include "server/json/field.hpp"
#include "server/json/utf8.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

/// What reaches a route, a log or a file's name is UTF-8 without control characters, whatever was encoded.
void is_plain(const std::string& text) {
  fuzz::must(json::is_utf8(text));
  for (const char one : text) fuzz::must(static_cast<unsigned char>(one) >= 0x20 && one != 0x7f);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto target = http::parse_target(fuzz::as_text(data, size));
  if (!target) return 0;
  for (const auto& segment : target->path) is_plain(segment);
  for (const auto& [name, value] : target->query) {
    is_plain(name);
    is_plain(value);
  }
  api::Request request;
  request.query = target->query;
  try {
    const auto page = api::read_page(request);
    fuzz::must(page.limit >= 1 && page.limit <= 200);
    api::numeric_cursor(page);
  } catch (const json::Refused&) {
  }
  return 0;
}
