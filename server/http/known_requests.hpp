// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <cstring>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <unordered_map>

#include "server/api/repeated.hpp"
#include "server/http/visitor.hpp"

namespace cellarer::http {

/// What a request was answered with, to be given again as long as it holds.
struct KnownAnswer {
  unsigned version = 11;  ///< of HTTP, as the request has it
  bool keeps_alive = true;
  int status = 200;
  std::string target;  ///< for the log
  std::string fields;  ///< of the header, as `Answering::fields` made them
  bool has_body = true;
  std::weak_ptr<const std::string> body;     ///< kept elsewhere, and gone with the forecast that it is of
  std::size_t token_at = 0, token_size = 0;  ///< where in the request's header the session's token stands
  std::function<bool(const std::string& token)> still_so;
};

/// Answers from memory by what asked for them. A request is known by a digest of its header, byte for byte, and of its
/// sender's address (BLAKE2b under a key of this run, so that nobody can make two that meet); no header is kept, and no
/// token. Only what has passed every check of a request, and brings no body, gets in here. From any thread.
class KnownRequests {
 public:
  using Digest = std::array<std::uint8_t, 32>;

  KnownRequests();

  /// Whether it is worth a digest: the header, whole, of a GET.
  static bool may_be_known(std::string_view header) { return header.starts_with("GET ") && header.size() <= longest; }
  Digest digest(const Peer& peer, std::string_view header) const;

  /// Null where it is not known.
  std::shared_ptr<const KnownAnswer> find(const Digest& digest);
  void keep(const Digest& digest, KnownAnswer answer);
  void forget(const Digest& digest);

 private:
  static constexpr std::size_t longest = 4096, most_kept = 4096;

  struct Hash {
    std::size_t operator()(const Digest& digest) const {
      std::size_t first = 0;
      std::memcpy(&first, digest.data(), sizeof first);
      return first;
    }
  };

  std::string key_;
  std::mutex mutex_;
  std::unordered_map<Digest, std::shared_ptr<const KnownAnswer>, Hash> kept_;
};

}  // namespace cellarer::http
