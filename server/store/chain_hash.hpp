// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>

/// The hashes of the chain: SHA-256 (FIPS 180-4) over fields, each written as its length in decimal, a colon and its
/// bytes, so that no two lists of fields read the same.
namespace cellarer::store::chain {

using Digest = std::array<std::uint8_t, 32>;
using Salt = std::array<std::uint8_t, 16>;

/// Before the first link of every chain.
inline constexpr Digest no_digest{};

Digest sha256(std::string_view bytes);
/// 128 random bits: without them nobody can find out an erased entry by hashing what it may have been.
Salt new_salt();

std::string fields(std::initializer_list<std::string_view> values);
Digest content_hash(const Salt& salt, const std::string& content);
Digest link_hash(const std::string& agency, std::int64_t number, const Digest& content, const Digest& previous);

/// In lower-case hexadecimal digits.
std::string hex(const Digest& digest);

}  // namespace cellarer::store::chain
