// SPDX-License-Identifier: MIT
#include "server/http/header_check.hpp"

#include <algorithm>

#include "server/http/text.hpp"

namespace cellarer::http {

namespace {

bool is_token(std::string_view text) {  // RFC 9110, 5.6.2
  constexpr std::string_view marks = "!#$%&'*+-.^_`|~";
  return !text.empty() && std::all_of(text.begin(), text.end(), [&](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           marks.find(c) != std::string_view::npos;
  });
}

/// The next line, without its end; taken off the front.
std::string_view next_line(std::string_view& rest) {
  const auto end = rest.find("\r\n");
  const auto line = rest.substr(0, end);
  rest.remove_prefix(std::min(rest.size(), line.size() + 2));
  return line;
}

/// What decides where the request ends.
struct Framing {
  int hosts = 0, lengths = 0, codings = 0;
  bool length_is_number = true, coding_is_chunked = true;

  void hear(const std::string& name, std::string_view value) {
    if (name == "host") ++hosts;
    if (name == "content-length") {
      ++lengths;
      length_is_number = !value.empty() && value.find_first_not_of("0123456789") == std::string_view::npos;
    }
    if (name == "transfer-encoding") {
      ++codings;
      coding_is_chunked = lower_case(value) == "chunked";
    }
  }

  std::optional<std::string> fault(bool is_old) const {
    if (hosts > 1) return "it has more than one Host";
    if (lengths > 1) return "it has more than one Content-Length";
    if (!length_is_number) return "its Content-Length is no number";
    if (codings > 1) return "it has more than one Transfer-Encoding";
    if (!coding_is_chunked) return "its Transfer-Encoding is not chunked";
    if (codings > 0 && lengths > 0) return "it has both a Content-Length and a Transfer-Encoding";
    if (codings > 0 && is_old) return "HTTP/1.0 knows no Transfer-Encoding";
    return std::nullopt;
  }
};

}  // namespace

bool has_stray_byte(std::string_view header, std::size_t from) {
  for (std::size_t i = from; i < header.size(); ++i) {
    const auto c = static_cast<unsigned char>(header[i]);
    const bool last = i + 1 == header.size();
    if (c == '\r' && (last || header[i + 1] == '\n')) continue;
    if (c == '\n' && i > 0 && header[i - 1] == '\r') continue;
    if ((c < 0x20 && c != '\t') || c == 0x7f) return true;
  }
  return false;
}

std::optional<std::string> header_fault(std::string_view header) {
  if (has_stray_byte(header, 0)) return "a control character or a bare line end stands in its header";
  const auto request_line = next_line(header);
  if (request_line.find('\t') != std::string_view::npos) return "a tab stands in its first line";
  Framing framing;
  for (;;) {
    const auto line = next_line(header);
    if (line.empty()) break;
    if (line.front() == ' ' || line.front() == '\t') return "a line of its header is folded";
    const auto colon = line.find(':');
    if (colon == std::string_view::npos) return "a line of its header has no colon";
    if (!is_token(line.substr(0, colon))) return "a name in its header is none, or a space stands before the colon";
    framing.hear(lower_case(line.substr(0, colon)), trimmed(line.substr(colon + 1)));
  }
  return framing.fault(request_line.ends_with("HTTP/1.0"));
}

}  // namespace cellarer::http
