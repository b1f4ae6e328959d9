// SPDX-License-Identifier: MIT
#include "server/json/writer.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::json {

namespace {

/// Letters that JSON takes as they are.
bool is_plain(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7f && c != '"' && c != '\\'; });
}

}  // namespace

void Writer::value(double value) {
  if (!std::isfinite(value)) return write("null");
  char digits[64];  // as `dump()` has them; the standard's own choose other forms for some numbers
  write({digits, nlohmann::detail::to_chars(digits, digits + sizeof digits, value)});
}

void Writer::value(std::string_view text) {
  if (!is_plain(text)) return write(nlohmann::json(text).dump());
  separate();
  text_ += '"';
  text_ += text;
  text_ += '"';
}

void Writer::key(std::string_view name) {
  separate();
  text_ += '"';
  text_ += name;
  text_ += "\":";
  follows_ = false;
}

}  // namespace cellarer::json
