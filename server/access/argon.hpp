// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string>
#include <string_view>

/// Argon2id (RFC 9106) for what a person types, by libsodium.
namespace cellarer::access {

/// What one hash costs. Memory is what makes trying out dear: it bounds how many guesses a graphics card runs side by
/// side. These are the OWASP Password Storage Cheat Sheet's lowest values; they suffice because the codes are drawn by
/// us and hold 70 random bits (secret_code.hpp), and more would let a flood of wrong codes fill the service's memory:
/// each hash under way holds 19 MiB.
struct ArgonCost {
  std::size_t memory_KiB = 19'456;  ///< m, 8 and more
  unsigned passes = 2;              ///< t, 1 and more; lanes p = 1, which is all that libsodium offers
};

/// The code's hash with a random salt of 16 bytes and its cost, as "$argon2id$v=19$m=19456,t=2,p=1$salt$hash". About 20
/// to 40 ms of one core, so never on an I/O thread. Throws std::bad_alloc where the memory is not there.
std::string hash_typed_code(std::string_view code, ArgonCost cost = {});

/// Whether this code made that hash, at the cost that stands in it: a later change of cost leaves old hashes good.
/// False for a text that is no such hash. Whoever calls it lets only a few run at once.
bool verify_typed_code(std::string_view code, const std::string& stored_hash);

}  // namespace cellarer::access
