// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "server/api/message.hpp"

namespace cellarer::http {

/// What is kept as finished bytes is kept compressed (gzip, RFC 1952) beside them, for phones with little signal. An
/// answer that was made for one request goes out as it is: compressing costs more than making it, and what is secret
/// (a code, a key) is always of that sort. From any thread.
class Compression {
 public:
  /// Compresses the body of an answer to a GET or HEAD where the client takes gzip and the body is long and kept. The
  /// entity tag then is a weak one: of one version in two forms.
  void apply(api::Response& response, const std::string& accept_encoding);

 private:
  api::Bytes compressed(const api::Bytes& plain);
  void forget_gone();

  struct Kept {
    std::weak_ptr<const std::string> plain;
    api::Bytes gzip;
  };
  std::mutex mutex_;
  std::map<const std::string*, Kept> kept_;  ///< by the plain bytes' place, which is theirs while `plain` lives
  std::size_t looked_through_at_ = 64;       ///< the number of forms at which those of bytes that are gone are dropped
};

}  // namespace cellarer::http
