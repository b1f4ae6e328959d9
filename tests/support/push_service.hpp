// SPDX-License-Identifier: MIT
#pragma once
#include <condition_variable>
#include <map>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace cellarer::testing {

/// A push service of RFC 8030's form on loopback, for tests: takes messages by POST, and answers as it is told to.
class PushService {
 public:
  struct Message {
    std::string path;
    std::map<std::string, std::string> headers;  ///< names in lower case
    std::string body;
  };

  PushService();
  ~PushService();
  PushService(const PushService&) = delete;
  PushService& operator=(const PushService&) = delete;

  /// "http://127.0.0.1:4711"
  std::string origin() const { return "http://127.0.0.1:" + std::to_string(port_); }
  /// What posts to that path are answered from now on, with more header lines ("Retry-After: 1\r\n"); 201 where not
  /// said.
  void answer(const std::string& path, int status, const std::string& more = "");
  /// All that came so far, once there are so many of them, or the time is up.
  std::vector<Message> wait_for(std::size_t count, int seconds = 30);

 private:
  void serve();
  void take(int connection);

  int socket_ = -1, port_ = 0;
  std::mutex mutex_;
  std::condition_variable came_;
  std::vector<Message> messages_;
  std::map<std::string, std::pair<int, std::string>> answers_;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace cellarer::testing
