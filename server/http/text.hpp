// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

/// Small pieces of header fields (RFC 9110, section 5.6).
namespace cellarer::http {

/// Without the spaces and tabs around it.
std::string_view trimmed(std::string_view text);
/// Letters of ASCII alone.
std::string lower_case(std::string_view text);
/// The pieces of a list, trimmed, the empty ones left out; a mark inside double quotes divides nothing.
std::vector<std::string_view> split_outside_quotes(std::string_view text, char mark);

}  // namespace cellarer::http
