// SPDX-License-Identifier: MIT
#include "server/http/target.hpp"

#include "server/json/utf8.hpp"

namespace cellarer::http {

namespace {

std::optional<int> hex(char digit) {
  if (digit >= '0' && digit <= '9') return digit - '0';
  if (digit >= 'a' && digit <= 'f') return digit - 'a' + 10;
  if (digit >= 'A' && digit <= 'F') return digit - 'A' + 10;
  return std::nullopt;
}

std::optional<std::string> decoded(std::string_view text, bool plus_is_space) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '%') {
      if (i + 2 >= text.size()) return std::nullopt;
      const auto high = hex(text[i + 1]), low = hex(text[i + 2]);
      if (!high || !low) return std::nullopt;
      c = static_cast<char>(*high * 16 + *low);
      i += 2;
    } else if (c == '+' && plus_is_space) {
      c = ' ';
    }
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) return std::nullopt;
    plain += c;
  }
  // What is said of an address goes into JSON, which is UTF-8 (RFC 8259, section 8.1).
  if (!json::is_utf8(plain)) return std::nullopt;
  return plain;
}

/// Calls `each` with the pieces between the marks; stops and answers false when one is refused.
template <class Each>
bool split(std::string_view text, char mark, const Each& each) {
  for (;;) {
    const auto end = text.find(mark);
    if (!each(text.substr(0, end))) return false;
    if (end == std::string_view::npos) return true;
    text.remove_prefix(end + 1);
  }
}

}  // namespace

std::optional<Target> parse_target(std::string_view text) {
  if (text.empty() || text.front() != '/') return std::nullopt;
  Target target;
  const auto question = text.find('?');
  const auto path_is_right = split(text.substr(1, question == std::string_view::npos ? question : question - 1), '/',
                                   [&](std::string_view piece) {
                                     const auto segment = decoded(piece, false);
                                     if (segment) target.path.push_back(*segment);
                                     return segment.has_value();
                                   });
  if (!path_is_right) return std::nullopt;
  if (question == std::string_view::npos) return target;
  const auto query_is_right = split(text.substr(question + 1), '&', [&](std::string_view piece) {
    const auto equals = piece.find('=');
    const auto name = decoded(piece.substr(0, equals), true);
    const auto value =
        equals == std::string_view::npos ? std::optional(std::string()) : decoded(piece.substr(equals + 1), true);
    if (!name || !value) return false;
    if (!name->empty()) target.query[*name] = *value;
    return true;
  });
  if (!query_is_right) return std::nullopt;
  return target;
}

}  // namespace cellarer::http
