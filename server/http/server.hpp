// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <list>
#include <memory>
#include <thread>

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/steady_timer.hpp>

#include "server/http/session.hpp"

namespace cellarer::http {

/// The port that was asked for belongs to someone else.
class PortTaken : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Accepts connections, within their number, and ends in order: on SIGTERM or SIGINT it accepts no more,
/// lets what is under way finish (at most `shutdown_s`), and returns from `run`. On SIGHUP, and where their files
/// changed, it takes up new certificates.
class Server {
 public:
  /// Binds at once. Throws `PortTaken`, or std::exception where the address or the certificate cannot be had.
  Server(const Config& config, const api::Dispatcher& dispatcher, const StaticFiles& files, Warnings& warnings);

  std::uint16_t port() const { return acceptor_.local_endpoint().port(); }
  /// Serves until a signal comes, or `stop` is called.
  void run();
  /// From any thread.
  void stop();

 private:
  boost::asio::awaitable<void> accept();
  boost::asio::awaitable<void> serve(std::shared_ptr<Session> session, std::unique_ptr<Connections::Place> place);
  boost::asio::awaitable<void> watch_certificates();
  boost::asio::awaitable<void> watch_deadlines();
  boost::asio::awaitable<void> hear_hangups();
  void admit(boost::asio::ip::tcp::socket socket);
  void end();
  bool has_ended() const { return ending_ && connections_.empty(); }
  void end_watching();

  const Config& config_;
  Reception reception_;
  Answering answering_;
  std::unique_ptr<Certificates> certificates_;  ///< none: plain HTTP
  Connections connections_;                     ///< before io_: what it still holds gives its places back
  boost::asio::io_context io_;
  Workers workers_;  ///< after io_: what a worker still holds refers to it
  Shared shared_;
  boost::asio::ip::tcp::acceptor acceptor_;
  boost::asio::signal_set signals_, hangups_;
  boost::asio::steady_timer grace_, certificate_check_, deadline_check_;
  std::list<std::weak_ptr<Session>> watched_;  ///< for their deadlines; on the acceptor's strand
  std::atomic<std::size_t> refusing_{0};
  std::atomic<bool> ending_{false};
};

}  // namespace cellarer::http
