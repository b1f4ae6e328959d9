// SPDX-License-Identifier: MIT
#include "tests/support/raw_connection.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <algorithm>
#include <sstream>
#include <stdexcept>

namespace cellarer::testing {

RawConnection::RawConnection(int port, const std::string& from) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
  constexpr timeval longest{30, 0};
  setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &longest, sizeof longest);
  setsockopt(socket_, SOL_SOCKET, SO_SNDTIMEO, &longest, sizeof longest);  // of connect too
  sockaddr_in source{}, target{};
  source.sin_family = target.sin_family = AF_INET;
  inet_pton(AF_INET, from.c_str(), &source.sin_addr);
  target.sin_port = htons(static_cast<std::uint16_t>(port));
  target.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  const bool open = bind(socket_, reinterpret_cast<const sockaddr*>(&source), sizeof source) == 0 &&
                    connect(socket_, reinterpret_cast<const sockaddr*>(&target), sizeof target) == 0;
  if (open) return;
  close(socket_);
  throw std::runtime_error("cannot connect from " + from);
}

RawConnection::~RawConnection() {
  if (socket_ >= 0) close(socket_);
}

bool RawConnection::send(std::string_view bytes) {
  while (!bytes.empty()) {
    const auto sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (sent <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(sent));
  }
  return true;
}

std::string RawConnection::read_until(std::string_view wanted, int wait_ms) {
  std::string read;
  char piece[16'384];
  pollfd waiting{socket_, POLLIN, 0};
  while (wanted.empty() || read.find(wanted) == std::string::npos) {
    if (poll(&waiting, 1, wait_ms) <= 0) break;
    const auto count = recv(socket_, piece, sizeof piece, 0);
    seen_ = count <= 0;
    if (seen_) break;
    read.append(piece, static_cast<std::size_t>(count));
  }
  return read;
}

bool begin_request(RawConnection& connection) {
  return connection.send("PUT / HTTP/1.1\r\nHost: 127.0.0.1\r\nExpect: 100-continue\r\nContent-Length: 2\r\n\r\n") &&
         connection.read_until("\r\n\r\n").find("HTTP/1.1 100 ") == 0;
}

bool finish_request(RawConnection& connection) {
  return connection.send("{}") && connection.read_until("}").find("HTTP/1.1 405 ") == 0;
}

std::map<std::string, std::string> fields_of(const std::string& answer) {
  std::map<std::string, std::string> fields;
  std::istringstream header(answer.substr(0, answer.find("\r\n\r\n")));
  for (std::string line; std::getline(header, line);) {
    const auto colon = line.find(": ");
    if (colon == std::string::npos) continue;
    std::string name = line.substr(0, colon);
    std::transform(name.begin(), name.end(), name.begin(), [](unsigned char c) { return std::tolower(c); });
    fields[name] = line.substr(colon + 2, line.find_last_not_of('\r') - colon - 1);
  }
  return fields;
}

std::size_t times(const std::string& text, const std::string& piece) {
  std::size_t count = 0;
  for (auto at = text.find(piece); at != std::string::npos; at = text.find(piece, at + piece.size())) ++count;
  return count;
}

bool allow_open_files(std::size_t count) {
  rlimit limit{};
  getrlimit(RLIMIT_NOFILE, &limit);
  if (limit.rlim_cur >= count) return true;
  if (limit.rlim_max < count) return false;
  limit.rlim_cur = count;
  return setrlimit(RLIMIT_NOFILE, &limit) == 0;
}

}  // namespace cellarer::testing
