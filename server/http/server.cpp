// SPDX-License-Identifier: MIT
#include "server/http/server.hpp"

#include <csignal>

#include <spdlog/spdlog.h>
#include <boost/asio/as_tuple.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/strand.hpp>
#include <boost/asio/use_awaitable.hpp>

namespace cellarer::http {

namespace asio = boost::asio;
using asio::ip::tcp;

namespace {

constexpr std::size_t most_refusals = 64;  // connections over the limit that are told so at one time

tcp::acceptor bind(asio::io_context& io, const Config& config) {
  require_loopback(config.host);
  const auto address = asio::ip::make_address(config.host == "localhost" ? "127.0.0.1" : config.host);
  const tcp::endpoint endpoint(address, config.port);
  tcp::acceptor acceptor(asio::make_strand(io));
  acceptor.open(endpoint.protocol());
  acceptor.set_option(asio::socket_base::reuse_address(true));
  boost::system::error_code error;
  acceptor.bind(endpoint, error);
  if (!error) acceptor.listen(asio::socket_base::max_listen_connections, error);
  if (error == asio::error::address_in_use) {
    throw PortTaken("port " + std::to_string(config.port) + " of " + config.host +
                    " is taken by another program: end that one, or give another --port");
  }
  if (error) throw std::runtime_error("cannot listen on " + config.host + ": " + error.message());
  return acceptor;
}

}  // namespace

Server::Server(const Config& config, const api::Dispatcher& dispatcher, const StaticFiles& files)
    : config_(config),
      answering_(dispatcher, files),
      workers_(config),
      shared_(config.limits, answering_, workers_),
      acceptor_(bind(io_, config)),
      signals_(acceptor_.get_executor(), SIGINT, SIGTERM),
      grace_(acceptor_.get_executor()) {}

void Server::run() {
  signals_.async_wait([this](const boost::system::error_code& error, int signal) {
    if (error) return;
    spdlog::info("signal {}: finishing what is under way", signal);
    stop();
  });
  asio::co_spawn(acceptor_.get_executor(), accept(), asio::detached);
  std::vector<std::thread> threads;
  for (int i = 1; i < config_.io_threads; ++i) threads.emplace_back([this] { io_.run(); });
  io_.run();
  for (auto& thread : threads) thread.join();
  workers_.stop();
}

void Server::stop() {
  asio::post(acceptor_.get_executor(), [this] { end(); });
}

/// On the acceptor's strand.
void Server::end() {
  {
    const std::lock_guard lock(mutex_);
    if (ending_) return;
    ending_ = true;
  }
  acceptor_.close();
  signals_.cancel();
  grace_.expires_after(std::chrono::seconds(config_.limits.shutdown_s));
  grace_.async_wait([this](const boost::system::error_code& error) {
    if (error) return;
    spdlog::warn("some requests did not finish within {} s", config_.limits.shutdown_s);
    io_.stop();
  });
  const std::lock_guard lock(mutex_);
  for (const auto& session : sessions_) session->stop();
  if (sessions_.empty()) grace_.cancel();
}

asio::awaitable<void> Server::accept() {
  while (acceptor_.is_open()) {
    auto [error, socket] = co_await acceptor_.async_accept(asio::make_strand(io_), asio::as_tuple(asio::use_awaitable));
    if (error == asio::error::operation_aborted) co_return;
    if (error) {  // out of file descriptors, say: the next may do
      spdlog::warn("accepting a connection: {}", error.message());
      asio::steady_timer pause(acceptor_.get_executor(), std::chrono::milliseconds(100));
      co_await pause.async_wait(asio::as_tuple(asio::use_awaitable));
      continue;
    }
    const auto executor = socket.get_executor();
    auto session = std::make_shared<Session>(std::move(socket), shared_);
    bool room = false;
    {
      const std::lock_guard lock(mutex_);
      if (ending_) co_return;
      room = sessions_.size() < config_.limits.connections;
      if (room) sessions_.insert(session);
    }
    if (room) {
      asio::co_spawn(executor, serve(session), asio::detached);
    } else if (refusing_ < most_refusals) {
      ++refusing_;
      asio::co_spawn(executor, session->refuse(), [this, session](const std::exception_ptr&) { --refusing_; });
    }
  }
}

asio::awaitable<void> Server::serve(std::shared_ptr<Session> session) {
  try {
    co_await session->run();
  } catch (const std::exception& error) {
    spdlog::error("connection: {}", error.what());
  }
  const std::lock_guard lock(mutex_);
  sessions_.erase(session);
  if (ending_ && sessions_.empty()) asio::post(acceptor_.get_executor(), [this] { grace_.cancel(); });
}

}  // namespace cellarer::http
