// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <filesystem>

/// Encrypted backups: libsodium's secretstream (XChaCha20 and Poly1305), so that a byte changed, a piece left out or
/// moved, or an end cut off is found, and nothing is read without the key.
///
///     "cellarer backup\n"      16 bytes, authenticated with the first piece
///     header                   24 bytes
///     pieces                   64 KiB of content each and 17 bytes more; the last one is marked as the last
///
/// The key is 32 random bytes, kept as 64 hexadecimal digits in a file that its owner alone may read. Whoever loses it
/// has no backup: keep a copy of it elsewhere, and not beside the backups. Everything here throws `StoreError`.
namespace cellarer::store {

using BackupKey = std::array<std::uint8_t, 32>;

/// Writes a new key; the file must not be there yet.
void make_key(const std::filesystem::path& file);
BackupKey read_key(const std::filesystem::path& file);

bool is_sealed(const std::filesystem::path& file);
/// `to` appears when it is whole and on the disk.
void seal(const std::filesystem::path& from, const std::filesystem::path& to, const BackupKey& key);
void unseal(const std::filesystem::path& from, const std::filesystem::path& to, const BackupKey& key);

}  // namespace cellarer::store
