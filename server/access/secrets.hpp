// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

/// Random values, their written form and their hashes; all by libsodium. A `std::string` holds bytes here: its
/// size counts, a zero byte is a byte like others.
namespace cellarer::access {

/// `count` bytes of the operating system's random source (getrandom). Throws std::runtime_error where libsodium
/// cannot start; that is checked before the first byte is handed out.
std::string random_bytes(std::size_t count);

/// Bytes of base64url's letters [A-Za-z0-9_-], without padding (RFC 4648, section 5): n bytes become
/// ceil(4 n / 3) letters.
std::string base64url(std::string_view bytes);

/// The bytes, or none where the text is not the one way to write them: another letter, padding, a length of 1
/// modulo 4, or bits left over that are not zero. So two different texts are never the same bytes (RFC 4648, 3.5).
std::optional<std::string> from_base64url(std::string_view text);

/// A value nobody can guess, written in base64url: 32 bytes (256 bit) for sessions and challenges: 43 letters;
/// 20 (160 bit) for invitation codes: 27; 16 (128 bit) for identifiers: 22.
std::string random_token(std::size_t bytes = 32);

/// One of 16 bytes that does not begin with a dash: who gives it to `cellarer account` would be giving an option.
std::string new_account_id();

/// SHA-256 (FIPS 180-4) of the bytes: 32 bytes. Tokens are stored so: whoever reads the store cannot sign in with
/// what stands there. A slow hash would add nothing: 160 random bits cannot be tried out. What a person types has
/// fewer and goes through Argon2id (argon.hpp).
std::string sha256(std::string_view bytes);
/// BLAKE2b (RFC 7693) of both pieces, one behind the other, under a key of 16 to 64 bytes: whoever does not know the
/// key cannot find two that have the same. Faster than the above.
using Digest = std::array<std::uint8_t, 32>;
Digest keyed_digest(std::string_view key, std::string_view first, std::string_view second);

/// Whether two secrets are the same, in a time that does not tell where they differ. Their lengths may be seen.
bool same_secret(std::string_view one, std::string_view other);

}  // namespace cellarer::access
