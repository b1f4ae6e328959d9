// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string_view>

namespace cellarer::json {

/// Where the text stops being UTF-8 (RFC 3629: no overlong form, no surrogate, nothing above U+10FFFF); none: all is.
std::optional<std::size_t> first_not_utf8(std::string_view bytes);

inline bool is_utf8(std::string_view bytes) { return !first_not_utf8(bytes); }

/// Without the beginning of a character that was cut off at its end.
std::string_view whole_characters(std::string_view text);

}  // namespace cellarer::json
