// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

/// Codes that are printed, kept in a drawer, and typed by a tired person years later: "H-7K3MX-9QW2R-HT8VD-4NPCZ".
namespace cellarer::access {

/// A kind letter, then four groups of five letters of Crockford's base 32 (no I, L, O, U), the last of which checks the
/// others: the nineteen before it, read as a number, modulo 37 (Crockford's check symbol; numbers whose remainder
/// would need one of his five extra signs are drawn again). Any one wrong letter is found, and any two exchanged
/// neighbours: 37 is prime and larger than 32. The kind letter is not part of the number.
///
/// The first group is a selector, stored as it is, so that the one hash to try is found without trying all; the
/// fourteen letters after it are the secret: 70 bits (less 0.2 for the numbers drawn again).
struct SecretCode {
  char kind = 'H';       ///< 'H' a household's sealed code, 'S' a staff member's recovery code
  std::string selector;  ///< the first group, 5 letters
  std::string letters;   ///< all 20, as they are hashed (argon.hpp)
};

SecretCode draw_secret_code(char kind);

/// As it is printed: "H-7K3MX-9QW2R-HT8VD-4NPCZ".
std::string printed(const SecretCode& code);

/// What was typed: small letters, spaces or other dashes between are taken; O is read as 0, I and L as 1. None
/// where a letter is of no code, some are missing or too many, or the check letter does not fit: then no hash is tried.
std::optional<SecretCode> read_secret_code(std::string_view typed);

/// Crockford's check symbol of letters of his base 32: 0 to 36. Exposed for its published examples.
unsigned check_value(std::string_view letters);

}  // namespace cellarer::access
