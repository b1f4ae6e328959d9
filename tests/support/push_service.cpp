// SPDX-License-Identifier: MIT
#include "tests/support/push_service.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <stdexcept>
#include <utility>

#include "tests/support/raw_connection.hpp"

namespace cellarer::testing {

/// One connection, in the clear or over TLS. Silent for five seconds: over.
class PushService::Line {
 public:
  Line(int connection, SSL_CTX* tls) : connection_(connection) {
    const timeval patience{5, 0};
    setsockopt(connection_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    if (tls == nullptr) return;
    ssl_.reset(SSL_new(tls));
    SSL_set_fd(ssl_.get(), connection_);
    open_ = SSL_accept(ssl_.get()) == 1;
  }
  ~Line() {
    if (ssl_ && open_) SSL_shutdown(ssl_.get());
    close(connection_);
  }
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;

  /// Whether both sides agreed on how to speak; a client that does not trust what it is shown goes.
  bool open() const { return open_; }
  int read(char* piece, int size) const {
    return ssl_ ? SSL_read(ssl_.get(), piece, size)
                : static_cast<int>(recv(connection_, piece, static_cast<std::size_t>(size), 0));
  }
  void write(const std::string& text) const {
    const int size = static_cast<int>(text.size());
    if (ssl_)
      static_cast<void>(SSL_write(ssl_.get(), text.data(), size));
    else
      static_cast<void>(!::send(connection_, text.data(), text.size(), MSG_NOSIGNAL));
  }

 private:
  struct Free {
    void operator()(SSL* ssl) const { SSL_free(ssl); }
  };
  int connection_;
  std::unique_ptr<SSL, Free> ssl_;
  bool open_ = true;
};

namespace {

/// A request whole, as far as its Content-Length says.
template <class Line>
std::string read_request(const Line& line) {
  std::string text;
  char piece[4096];
  for (;;) {
    const auto end = text.find("\r\n\r\n");
    if (end != std::string::npos) {
      const auto fields = fields_of(text);
      const auto length = fields.count("content-length") == 1 ? std::stoul(fields.at("content-length")) : 0;
      if (text.size() >= end + 4 + length) return text;
    }
    const int count = line.read(piece, sizeof piece);
    if (count <= 0) return text;
    text.append(piece, static_cast<std::size_t>(count));
  }
}

std::shared_ptr<SSL_CTX> showing(const CertificateFiles& shown) {
  std::shared_ptr<SSL_CTX> tls(SSL_CTX_new(TLS_server_method()), SSL_CTX_free);
  if (SSL_CTX_use_certificate_file(tls.get(), shown.certificate.c_str(), SSL_FILETYPE_PEM) != 1 ||
      SSL_CTX_use_PrivateKey_file(tls.get(), shown.key.c_str(), SSL_FILETYPE_PEM) != 1) {
    throw std::runtime_error("no certificate for a push service");
  }
  return tls;
}

}  // namespace

PushService::PushService(const CertificateFiles& shown) : PushService(showing(shown)) {}

PushService::PushService() : PushService(std::shared_ptr<SSL_CTX>()) {}

PushService::PushService(std::shared_ptr<SSL_CTX> tls)
    : tls_(std::move(tls)), socket_(socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
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
  sigset_t broken_pipe;  // OpenSSL writes without MSG_NOSIGNAL, and a client that trusts nobody is gone by then
  sigemptyset(&broken_pipe);
  sigaddset(&broken_pipe, SIGPIPE);
  pthread_sigmask(SIG_BLOCK, &broken_pipe, nullptr);
  pollfd waiting{socket_, POLLIN, 0};
  for (;;) {
    {
      const std::lock_guard lock(mutex_);
      if (ending_) return;
    }
    if (poll(&waiting, 1, 50) <= 0) continue;
    const int connection = accept(socket_, nullptr, nullptr);
    if (connection < 0) continue;
    Line line(connection, tls_.get());
    if (line.open()) take(line);
  }
}

void PushService::take(Line& line) {
  const auto request = read_request(line);
  if (request.empty()) return;  // it came and went
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
  line.write(text);
  came_.notify_all();
}

}  // namespace cellarer::testing
