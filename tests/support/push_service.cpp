// SPDX-License-Identifier: MIT
#include "tests/support/push_service.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <stdexcept>

#include "tests/support/raw_connection.hpp"

namespace cellarer::testing {

namespace {

/// A request whole, as far as its Content-Length says.
std::string read_request(int connection) {
  std::string text;
  char piece[4096];
  pollfd waiting{connection, POLLIN, 0};
  for (;;) {
    const auto end = text.find("\r\n\r\n");
    if (end != std::string::npos) {
      const auto fields = fields_of(text);
      const auto length = fields.count("content-length") == 1 ? std::stoul(fields.at("content-length")) : 0;
      if (text.size() >= end + 4 + length) return text;
    }
    if (poll(&waiting, 1, 5000) <= 0) return text;
    const auto count = recv(connection, piece, sizeof piece, 0);
    if (count <= 0) return text;
    text.append(piece, static_cast<std::size_t>(count));
  }
}

}  // namespace

PushService::PushService() : socket_(socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  if (bind(socket_, reinterpret_cast<sockaddr*>(&address), sizeof address) != 0 || listen(socket_, 16) != 0 ||
      getsockname(socket_, reinterpret_cast<sockaddr*>(&address), &size) != 0) {
    throw std::runtime_error("no port for a push service");
  }
  port_ = ntohs(address.sin_port);
  thread_ = std::thread([this] { serve(); });
}

PushService::~PushService() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  thread_.join();
  close(socket_);
}

void PushService::answer(const std::string& path, int status, const std::string& more) {
  const std::lock_guard lock(mutex_);
  answers_[path] = {status, more};
}

std::vector<PushService::Message> PushService::wait_for(std::size_t count, int seconds) {
  std::unique_lock lock(mutex_);
  came_.wait_for(lock, std::chrono::seconds(seconds), [&] { return messages_.size() >= count; });
  return messages_;
}

void PushService::serve() {
  pollfd waiting{socket_, POLLIN, 0};
  for (;;) {
    {
      const std::lock_guard lock(mutex_);
      if (ending_) return;
    }
    if (poll(&waiting, 1, 50) <= 0) continue;
    const int connection = accept(socket_, nullptr, nullptr);
    if (connection < 0) continue;
    take(connection);
    close(connection);
  }
}

void PushService::take(int connection) {
  const auto request = read_request(connection);
  const auto first = request.substr(0, request.find("\r\n"));
  const auto from = first.find(' ') + 1;
  Message message{first.substr(from, first.find(' ', from) - from), fields_of(request),
                  request.substr(request.find("\r\n\r\n") + 4)};
  std::pair<int, std::string> said{201, ""};
  {
    const std::lock_guard lock(mutex_);
    if (const auto found = answers_.find(message.path); found != answers_.end()) said = found->second;
    messages_.push_back(std::move(message));
  }
  const auto text = "HTTP/1.1 " + std::to_string(said.first) + " Said\r\nContent-Length: 0\r\n" + said.second +
                    "Connection: close\r\n\r\n";
  static_cast<void>(!::send(connection, text.data(), text.size(), MSG_NOSIGNAL));
  came_.notify_all();
}

}  // namespace cellarer::testing
