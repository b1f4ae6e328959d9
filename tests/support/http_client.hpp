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

/// One client with libcurl; keeps its connection and the service's cookie between requests. Not for several threads at
/// once. It begins as whoever is signed in at that port by `sign_in_at`.
class HttpClient {
 public:
  explicit HttpClient(int port);
  /// As another, or as nobody ("").
  HttpClient(int port, std::string cookie);
  ~HttpClient();
  HttpClient(const HttpClient&) = delete;
  HttpClient& operator=(const HttpClient&) = delete;

  /// A body without a type among the headers goes as JSON.
  Answer send(const std::string& method, const std::string& path, const std::string& body = "",
              const std::vector<std::string>& headers = {});
  Answer get(const std::string& path, const std::vector<std::string>& headers = {}) {
    return send("GET", path, "", headers);
  }
  /// A write with a new key.
  Answer post(const std::string& path, const nlohmann::json& body);
  /// A write with this key.
  Answer post(const std::string& path, const nlohmann::json& body, const std::string& key);
  /// From another of this machine's addresses, 127.x.y.z.
  void come_from(const std::string& address) { from_ = address; }
  /// "__Host-cellarer=..."; empty: nobody.
  const std::string& cookie() const { return cookie_; }

 private:
  void* curl_;
  int port_;
  std::string cookie_, from_;
};

/// Whose cookie clients of that port begin with.
void sign_in_at(int port, const std::string& cookie);

/// A value that no other call gives, within this run.
std::string new_key();

/// What a client that speaks HTTP by hand gets: sends the bytes, reads until the end or the time is up.
std::string raw_exchange(int port, const std::string& bytes, int wait_ms);

}  // namespace cellarer::testing
