// SPDX-License-Identifier: MIT
#include "server/store/sealed_file.hpp"

#include <fcntl.h>
#include <sodium.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <string>
#include <vector>

#include "server/octets.hpp"
#include "server/store/files.hpp"
#include "server/store/store.hpp"

namespace cellarer::store {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view mark = "cellarer backup\n";
constexpr std::size_t piece_bytes = std::size_t{64} * 1024;
constexpr std::size_t more_bytes = crypto_secretstream_xchacha20poly1305_ABYTES;
static_assert(crypto_secretstream_xchacha20poly1305_KEYBYTES == std::tuple_size_v<BackupKey>);

using Bytes = std::vector<unsigned char>;

std::ifstream open_to_read(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw StoreError("cannot read " + file.string());
  return stream;
}

std::ofstream open_to_write(const fs::path& file) {
  std::ofstream stream(file, std::ios::binary | std::ios::trunc);
  if (!stream) throw StoreError("cannot write " + file.string());
  fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write);
  return stream;
}

/// Fewer only at the end.
Bytes read(std::ifstream& stream, std::size_t most) {
  Bytes bytes(most);
  stream.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(most));
  bytes.resize(static_cast<std::size_t>(stream.gcount()));
  return bytes;
}

void write(std::ofstream& stream, const unsigned char* bytes, std::size_t count, const fs::path& file) {
  stream.write(reinterpret_cast<const char*>(bytes), static_cast<std::streamsize>(count));
  if (!stream) throw StoreError("cannot write " + file.string() + ": is the disk full?");
}

void close(std::ofstream& stream, const fs::path& file) {
  stream.close();
  if (!stream) throw StoreError("cannot write " + file.string() + ": is the disk full?");
}

bool at_end(std::ifstream& stream) { return stream.peek() == std::ifstream::traits_type::eof(); }

/// What is authenticated beside the first piece, and nothing beside the others.
std::string_view beside(bool first) { return first ? mark : std::string_view(); }

/// Makes `to` by `work` on a file of another name; that one is gone where the work fails.
template <class Work>
void make_file(const fs::path& to, const Work& work) {
  const auto partial = begin_file(to);
  try {
    work(partial);
  } catch (...) {
    fs::remove(partial);
    throw;
  }
  finish_file(partial, to);
}

void seal_pieces(std::ifstream& in, std::ofstream& out, const BackupKey& key, const fs::path& to) {
  crypto_secretstream_xchacha20poly1305_state state;
  unsigned char header[crypto_secretstream_xchacha20poly1305_HEADERBYTES];
  crypto_secretstream_xchacha20poly1305_init_push(&state, header, key.data());
  write(out, octets(mark), mark.size(), to);
  write(out, header, sizeof header, to);
  bool first = true, last = false;
  while (!last) {
    const Bytes piece = read(in, piece_bytes);
    last = at_end(in);
    Bytes sealed(piece.size() + more_bytes);
    const auto with = beside(first);
    crypto_secretstream_xchacha20poly1305_push(
        &state, sealed.data(), nullptr, piece.data(), piece.size(), octets(with), with.size(),
        last ? crypto_secretstream_xchacha20poly1305_TAG_FINAL : crypto_secretstream_xchacha20poly1305_TAG_MESSAGE);
    write(out, sealed.data(), sealed.size(), to);
    first = false;
  }
}

void unseal_pieces(std::ifstream& in, std::ofstream& out, const BackupKey& key, const fs::path& from,
                   const fs::path& to) {
  const StoreError damaged(from.string() + " does not open: it was damaged or changed, or this is not its key");
  crypto_secretstream_xchacha20poly1305_state state;
  const Bytes header = read(in, crypto_secretstream_xchacha20poly1305_HEADERBYTES);
  if (header.size() != crypto_secretstream_xchacha20poly1305_HEADERBYTES ||
      crypto_secretstream_xchacha20poly1305_init_pull(&state, header.data(), key.data()) != 0) {
    throw damaged;
  }
  bool first = true;
  for (;;) {
    const Bytes sealed = read(in, piece_bytes + more_bytes);
    if (sealed.size() < more_bytes) throw damaged;
    Bytes piece(sealed.size() - more_bytes);
    unsigned char tag = 0;
    const auto with = beside(first);
    if (crypto_secretstream_xchacha20poly1305_pull(&state, piece.data(), nullptr, &tag, sealed.data(), sealed.size(),
                                                   octets(with), with.size()) != 0) {
      throw damaged;
    }
    write(out, piece.data(), piece.size(), to);
    first = false;
    const bool last = tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL;
    if (last != at_end(in)) throw damaged;
    if (last) return;
  }
}

void start_sodium() {
  static const int ready = sodium_init();
  if (ready < 0) throw StoreError("libsodium finds no random source");
}

}  // namespace

void make_key(const fs::path& file) {
  start_sodium();
  BackupKey key;
  crypto_secretstream_xchacha20poly1305_keygen(key.data());
  char digits[2 * std::tuple_size_v<BackupKey> + 1];
  sodium_bin2hex(digits, sizeof digits, key.data(), key.size());
  const std::string line = std::string(digits) + "\n";
  const int to = open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR);
  if (to < 0) throw StoreError("cannot make " + file.string() + ": is it there already, or its folder not?");
  const bool kept = ::write(to, line.data(), line.size()) == static_cast<ssize_t>(line.size()) && fsync(to) == 0;
  ::close(to);
  if (!kept) throw StoreError("cannot write " + file.string());
}

BackupKey read_key(const fs::path& file) {
  struct stat about {};
  if (stat(file.c_str(), &about) != 0) throw StoreError("there is no key file " + file.string());
  if ((about.st_mode & (S_IRWXG | S_IRWXO)) != 0) {
    throw StoreError("others may read the key file " + file.string() + ": chmod 600 it, or make a new key");
  }
  auto stream = open_to_read(file);
  std::string digits;
  stream >> digits;
  BackupKey key;
  std::size_t length = 0;
  const bool read =
      sodium_hex2bin(key.data(), key.size(), digits.data(), digits.size(), nullptr, &length, nullptr) == 0;
  if (!read || length != key.size() || digits.size() != 2 * key.size()) {
    throw StoreError(file.string() + " is no key of `cellarer backup --make-key`");
  }
  return key;
}

bool is_sealed(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  const Bytes begin = read(stream, mark.size());
  return std::equal(begin.begin(), begin.end(), mark.begin(), mark.end(),
                    [](unsigned char a, char b) { return a == static_cast<unsigned char>(b); });
}

void seal(const fs::path& from, const fs::path& to, const BackupKey& key) {
  start_sodium();
  auto in = open_to_read(from);
  make_file(to, [&](const fs::path& partial) {
    auto out = open_to_write(partial);
    seal_pieces(in, out, key, partial);
    close(out, partial);
  });
}

void unseal(const fs::path& from, const fs::path& to, const BackupKey& key) {
  start_sodium();
  if (!is_sealed(from)) throw StoreError(from.string() + " is no encrypted backup");
  auto in = open_to_read(from);
  read(in, mark.size());
  make_file(to, [&](const fs::path& partial) {
    auto out = open_to_write(partial);
    unseal_pieces(in, out, key, from, partial);
    close(out, partial);
  });
}

}  // namespace cellarer::store
