// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

/// What is refused in a request's header before anything else reads it. Two programs that read one header in two
/// ways let a request be smuggled through the first to the second (RFC 9112, section 11.2); so whatever has more than
/// one reading, or was tolerated once, is no request here.
namespace cellarer::http {

/// None where `header`, a request line and fields up to and with the empty line, has one reading only. Otherwise what
/// is wrong. Refused are: control characters, a line end that is not CR LF, folded lines (RFC 9112, 5.2), a space
/// before a colon (5.1), names that are no tokens, more than one Host (3.2), Content-Length or Transfer-Encoding
/// twice or together or empty, a length that is not digits alone, a coding that is not `chunked` (6.1 to 6.3), and
/// chunks in HTTP/1.0.
std::optional<std::string> header_fault(std::string_view header);

/// The same for a header that has arrived in part, from `from` on: whether it holds what no header holds.
bool has_stray_byte(std::string_view header, std::size_t from);

}  // namespace cellarer::http
