// SPDX-License-Identifier: MIT
#include "server/http/text.hpp"

namespace cellarer::http {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

std::vector<std::string_view> split_outside_quotes(std::string_view text, char mark) {
  std::vector<std::string_view> pieces;
  const auto take = [&](std::size_t from, std::size_t to) {
    const auto piece = trimmed(text.substr(from, to - from));
    if (!piece.empty()) pieces.push_back(piece);
  };
  bool quoted = false;
  std::size_t from = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '"') quoted = !quoted;
    if (text[i] != mark || quoted) continue;
    take(from, i);
    from = i + 1;
  }
  take(from, text.size());
  return pieces;
}

}  // namespace cellarer::http
