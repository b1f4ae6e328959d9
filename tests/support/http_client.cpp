// SPDX-License-Identifier: MIT
#include "tests/support/http_client.hpp"

#include <arpa/inet.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <mutex>
#include <stdexcept>

#include <curl/curl.h>

namespace cellarer::testing {

namespace {

std::size_t take_body(char* data, std::size_t size, std::size_t count, void* to) {
  static_cast<std::string*>(to)->append(data, size * count);
  return size * count;
}

std::size_t take_header(char* data, std::size_t size, std::size_t count, void* to) {
  const std::string line(data, size * count);
  const auto colon = line.find(':');
  if (colon == std::string::npos) return size * count;
  std::string name = line.substr(0, colon);
  std::transform(name.begin(), name.end(), name.begin(), [](unsigned char c) { return std::tolower(c); });
  const auto from = line.find_first_not_of(" \t", colon + 1);
  const auto to_end = line.find_last_not_of(" \t\r\n");
  auto& headers = *static_cast<std::map<std::string, std::string>*>(to);
  headers[name] = from == std::string::npos || from > to_end ? "" : line.substr(from, to_end - from + 1);
  return size * count;
}

}  // namespace

std::string Answer::problem() const {
  const auto type = json().value("type", "");
  return type.substr(type.rfind('/') + 1);
}

namespace {
std::mutex cookies_mutex;
std::map<int, std::string> cookies;

std::string cookie_at(int port) {
  const std::lock_guard lock(cookies_mutex);
  const auto found = cookies.find(port);
  return found == cookies.end() ? "" : found->second;
}
}  // namespace

void sign_in_at(int port, const std::string& cookie) {
  const std::lock_guard lock(cookies_mutex);
  cookies[port] = cookie;
}

HttpClient::HttpClient(int port) : HttpClient(port, cookie_at(port)) {}

HttpClient::HttpClient(int port, std::string cookie)
    : curl_(curl_easy_init()), port_(port), cookie_(std::move(cookie)) {
  if (curl_ == nullptr) throw std::runtime_error("no libcurl");
}

HttpClient::~HttpClient() { curl_easy_cleanup(static_cast<CURL*>(curl_)); }

Answer HttpClient::send(const std::string& method, const std::string& path, const std::string& body,
                        const std::vector<std::string>& headers) {
  auto* curl = static_cast<CURL*>(curl_);
  curl_easy_reset(curl);
  Answer answer;
  const std::string url = "http://127.0.0.1:" + std::to_string(port_) + path;
  curl_slist* list = nullptr;
  bool typed = false;
  for (const auto& header : headers) {
    list = curl_slist_append(list, header.c_str());
    typed = typed || header.starts_with("Content-Type");
  }
  if (!body.empty() && !typed) list = curl_slist_append(list, "Content-Type: application/json");
  if (!cookie_.empty()) list = curl_slist_append(list, ("Cookie: " + cookie_).c_str());
  curl_easy_setopt(curl, CURLOPT_URL, url.c_str());
  curl_easy_setopt(curl, CURLOPT_PATH_AS_IS, 1L);
  curl_easy_setopt(curl, CURLOPT_CUSTOMREQUEST, method.c_str());
  if (method == "HEAD") curl_easy_setopt(curl, CURLOPT_NOBODY, 1L);
  if (!body.empty()) {
    curl_easy_setopt(curl, CURLOPT_POSTFIELDSIZE_LARGE, static_cast<curl_off_t>(body.size()));
    curl_easy_setopt(curl, CURLOPT_POSTFIELDS, body.c_str());
  }
  curl_easy_setopt(curl, CURLOPT_HTTPHEADER, list);
  if (!from_.empty()) curl_easy_setopt(curl, CURLOPT_INTERFACE, ("host!" + from_).c_str());
  curl_easy_setopt(curl, CURLOPT_PROXY, "");  // nothing is read from the environment
  curl_easy_setopt(curl, CURLOPT_TIMEOUT, 120L);
  curl_easy_setopt(curl, CURLOPT_NOSIGNAL, 1L);
  curl_easy_setopt(curl, CURLOPT_WRITEFUNCTION, take_body);
  curl_easy_setopt(curl, CURLOPT_WRITEDATA, &answer.body);
  curl_easy_setopt(curl, CURLOPT_HEADERFUNCTION, take_header);
  curl_easy_setopt(curl, CURLOPT_HEADERDATA, &answer.headers);
  const auto result = curl_easy_perform(curl);
  if (result == CURLE_OK) curl_easy_getinfo(curl, CURLINFO_RESPONSE_CODE, &answer.status);
  curl_slist_free_all(list);
  if (const auto set = answer.headers.find("set-cookie"); set != answer.headers.end()) {
    cookie_ = set->second.substr(0, set->second.find(';'));
    if (cookie_.ends_with('=')) cookie_.clear();
  }
  return answer;
}

Answer HttpClient::post(const std::string& path, const nlohmann::json& body) { return post(path, body, new_key()); }

Answer HttpClient::post(const std::string& path, const nlohmann::json& body, const std::string& key) {
  return send("POST", path, body.dump(), {"Content-Type: application/json", "Idempotency-Key: " + key});
}

std::string new_key() {
  static std::atomic<int> count{0};
  return "key-" + std::to_string(++count);
}

std::string raw_exchange(int port, const std::string& bytes, int wait_ms) {
  const int socket_ = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
    close(socket_);
    throw std::runtime_error("cannot connect");
  }
  ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
  std::string answer;
  char piece[4096];
  pollfd waiting{socket_, POLLIN, 0};
  while (poll(&waiting, 1, wait_ms) > 0) {
    const auto count = recv(socket_, piece, sizeof piece, 0);
    if (count <= 0) break;
    answer.append(piece, static_cast<std::size_t>(count));
  }
  close(socket_);
  return answer;
}

}  // namespace cellarer::testing
