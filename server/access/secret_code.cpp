// SPDX-License-Identifier: MIT
#include "server/access/secret_code.hpp"

#include "server/access/secrets.hpp"

namespace cellarer::access {

namespace {

constexpr std::string_view alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
constexpr std::size_t all_letters = 20, group_letters = 5;
/// What stands between groups is left out; a long dash is what telephones make of a short one.
constexpr std::string_view dashes[] = {"-", " ", "\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2212"};

char as_printed(char typed) {
  const char letter = typed >= 'a' && typed <= 'z' ? static_cast<char>(typed - 'a' + 'A') : typed;
  if (letter == 'O') return '0';
  return letter == 'I' || letter == 'L' ? '1' : letter;
}

std::string without_dashes(std::string_view typed) {
  std::string letters;
  while (!typed.empty()) {
    std::size_t skip = 0;
    for (const auto dash : dashes) {
      if (typed.substr(0, dash.size()) == dash) skip = dash.size();
    }
    if (skip == 0) letters += as_printed(typed.front());
    typed.remove_prefix(skip == 0 ? 1 : skip);
  }
  return letters;
}

}  // namespace

unsigned check_value(std::string_view letters) {
  unsigned remainder = 0;
  for (const char letter : letters) remainder = (remainder * 32 + static_cast<unsigned>(alphabet.find(letter))) % 37;
  return remainder;
}

SecretCode draw_secret_code(char kind) {
  for (;;) {
    std::string letters;
    for (const char byte : random_bytes(all_letters - 1)) letters += alphabet[static_cast<unsigned char>(byte) % 32];
    const unsigned check = check_value(letters);
    if (check >= alphabet.size()) continue;
    letters += alphabet[check];
    return {kind, letters.substr(0, group_letters), letters};
  }
}

std::string printed(const SecretCode& code) {
  std::string text(1, code.kind);
  for (std::size_t i = 0; i < code.letters.size(); i += group_letters) {
    text += '-';
    text += code.letters.substr(i, group_letters);
  }
  return text;
}

std::optional<SecretCode> read_secret_code(std::string_view typed) {
  constexpr std::size_t longest_typed = 100;
  if (typed.size() > longest_typed) return std::nullopt;
  const std::string letters = without_dashes(typed);
  if (letters.size() != 1 + all_letters || letters.find_first_not_of(alphabet) != std::string::npos)
    return std::nullopt;
  const char kind = letters.front();
  const std::string code = letters.substr(1);
  const unsigned check = check_value(std::string_view(code).substr(0, all_letters - 1));
  if (kind < 'A' || check >= alphabet.size() || alphabet[check] != code.back()) return std::nullopt;
  return SecretCode{kind, code.substr(0, group_letters), code};
}

}  // namespace cellarer::access
