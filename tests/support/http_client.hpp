// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace cellarer::testing {

struct Answer {
  long status = 0;                             ///< 0: no answer came
  std::map<std::string, std::string> headers;  ///< names in lower case
  std::string body;
  nlohmann::json json() const { return nlohmann::json::parse(body); }
  /// "/problems/out-of-range" gives "out-of-range".
  std::string problem() const;
};

/// One client with libcurl; keeps its connection between requests. Not for several threads at once.
class HttpClient {
 public:
  explicit HttpClient(int port);
  ~HttpClient();
  HttpClient(const HttpClient&) = delete;
  HttpClient& operator=(const HttpClient&) = delete;

  Answer send(const std::string& method, const std::string& path, const std::string& body = "",
              const std::vector<std::string>& headers = {});
  Answer get(const std::string& path, const std::vector<std::string>& headers = {}) {
    return send("GET", path, "", headers);
  }
  /// A write with a new key.
  Answer post(const std::string& path, const nlohmann::json& body);
  /// A write with this key.
  Answer post(const std::string& path, const nlohmann::json& body, const std::string& key);

 private:
  void* curl_;
  int port_;
};

/// A value that no other call gives, within this run.
std::string new_key();

/// What a client that speaks HTTP by hand gets: sends the bytes, reads until the end or the time is up.
std::string raw_exchange(int port, const std::string& bytes, int wait_ms);

}  // namespace cellarer::testing
