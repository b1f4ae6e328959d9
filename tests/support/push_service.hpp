// SPDX-License-Identifier: MIT
#pragma once
#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include <openssl/ssl.h>

#include "tests/support/tls.hpp"

namespace cellarer::testing {

/// A push service of RFC 8030's form on loopback, for tests: takes messages by POST, and answers as it is told to. In
/// the clear, or with a certificate over TLS.
class PushService {
 public:
  struct Message {
    std::string path;
    std::map<std::string, std::string> headers;  ///< names in lower case
    std::string body;
  };

  PushService();
  explicit PushService(const CertificateFiles& shown);
  ~PushService();
  PushService(const PushService&) = delete;
  PushService& operator=(const PushService&) = delete;

  /// "http://127.0.0.1:4711"; over TLS "https://localhost:4711", which is where a certificate's name is compared.
  std::string origin() const { return (tls_ ? "https://localhost:" : "http://127.0.0.1:") + std::to_string(port_); }
  /// What posts to that path are answered from now on, with more header lines ("Retry-After: 1\r\n"); 201 where not
  /// said.
  void answer(const std::string& path, int status, const std::string& more = "");
  /// All that came so far, once there are so many of them, or the time is up.
  std::vector<Message> wait_for(std::size_t count, int seconds = 30);

 private:
  class Line;

  explicit PushService(std::shared_ptr<SSL_CTX> tls);
  void serve();
  void take(Line& line);

  std::shared_ptr<SSL_CTX> tls_;  ///< none: in the clear
  int socket_ = -1, port_ = 0;
  std::mutex mutex_;
  std::condition_variable came_;
  std::vector<Message> messages_;
  std::map<std::string, std::pair<int, std::string>> answers_;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace cellarer::testing
