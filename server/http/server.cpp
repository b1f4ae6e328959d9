// SPDX-License-Identifier: MIT
#include "server/http/server.hpp"

#include <sys/resource.h>

#include <algorithm>
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
constexpr std::chrono::milliseconds deadlines_looked_at_every{100};
constexpr int one_thread = 1, many_threads = BOOST_ASIO_CONCURRENCY_HINT_SAFE;

tcp::acceptor bind(asio::io_context& io, const Config& config) {
  require_protected_reach(config);
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

/// Room for all connections beside what the store and the pages hold open.
void raise_descriptor_limit(std::size_t connections) {
  constexpr rlim_t beside = 256;
  rlimit limit{};
  if (getrlimit(RLIMIT_NOFILE, &limit) != 0) return;
  const rlim_t wanted = connections + most_refusals + beside;
  if (limit.rlim_cur >= wanted) return;
  limit.rlim_cur = std::min(wanted, limit.rlim_max);
  if (setrlimit(RLIMIT_NOFILE, &limit) == 0 && limit.rlim_cur == wanted) return;
  spdlog::warn("this system lets the service open {} files: fewer than {} connections are possible", limit.rlim_cur,
               connections);
}

std::unique_ptr<Certificates> certificates(const Config& config, Warnings& warnings) {
  if (!config.tls.named()) return nullptr;
  return std::make_unique<Certificates>(config.tls, public_name(config.public_address), warnings);
}

}  // namespace

Server::Server(const Config& config, const api::Dispatcher& dispatcher, const StaticFiles& files, Warnings& warnings)
    : config_(config),
      reception_(config),
      answering_(dispatcher, files, reception_),
      certificates_(certificates(config, warnings)),
      connections_(config.limits),
      io_(config.io_threads == 1 ? one_thread : many_threads),
      workers_(config),
      shared_{config.limits, answering_, workers_, certificates_.get()},
      acceptor_(bind(io_, config)),
      signals_(acceptor_.get_executor(), SIGINT, SIGTERM),
      hangups_(acceptor_.get_executor()),
      grace_(acceptor_.get_executor()),
      certificate_check_(acceptor_.get_executor()),
      deadline_check_(acceptor_.get_executor()) {
  raise_descriptor_limit(config.limits.connections);
  if (certificates_) hangups_.add(SIGHUP);
}

void Server::run() {
  signals_.async_wait([this](const boost::system::error_code& error, int signal) {
    if (error) return;
    spdlog::info("signal {}: finishing what is under way", signal);
    stop();
  });
  const auto strand = acceptor_.get_executor();
  asio::co_spawn(strand, accept(), asio::detached);
  asio::co_spawn(strand, watch_deadlines(), asio::detached);
  if (certificates_) {
    asio::co_spawn(strand, watch_certificates(), asio::detached);
    asio::co_spawn(strand, hear_hangups(), asio::detached);
  }
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
  if (ending_.exchange(true)) return;
  acceptor_.close();
  signals_.cancel();
  hangups_.cancel();
  certificate_check_.cancel();
  grace_.expires_after(std::chrono::seconds(config_.limits.shutdown_s));
  grace_.async_wait([this](const boost::system::error_code& error) {
    if (error) return;
    spdlog::warn("some requests did not finish within {} s", config_.limits.shutdown_s);
    io_.stop();
  });
  connections_.close_all();
  if (connections_.empty()) end_watching();
}

/// On the acceptor's strand, when nobody is left.
void Server::end_watching() {
  grace_.cancel();
  deadline_check_.cancel();
}

asio::awaitable<void> Server::accept() {
  while (acceptor_.is_open()) {
    asio::any_io_executor executor = io_.get_executor();  // one thread is a strand by itself
    if (config_.io_threads > 1) executor = asio::make_strand(io_);
    auto [error, socket] = co_await acceptor_.async_accept(executor, asio::as_tuple(asio::use_awaitable));
    if (error == asio::error::operation_aborted) co_return;
    if (!error) {
      admit(std::move(socket));
      continue;
    }
    spdlog::warn("accepting a connection: {}", error.message());  // out of file descriptors, say: the next may do
    asio::steady_timer pause(acceptor_.get_executor(), std::chrono::milliseconds(100));
    co_await pause.async_wait(asio::as_tuple(asio::use_awaitable));
  }
}

void Server::admit(tcp::socket socket) {
  boost::system::error_code error;
  const auto remote = socket.remote_endpoint(error);
  if (error || ending_) return;  // gone already
  socket.set_option(tcp::no_delay(true), error);
  const Peer peer{plain_address(remote.address()), certificates_ != nullptr};
  const auto executor = socket.get_executor();
  auto session = std::make_shared<Session>(std::move(socket), peer, shared_);
  const auto close = [weak = std::weak_ptr(session)] {
    if (const auto open = weak.lock()) open->stop();
  };
  auto place = connections_.enter(reception_.trusts(peer.address) ? "" : owner_of(peer.address), close);
  if (place) {
    watched_.push_back(session);
    asio::co_spawn(executor, serve(std::move(session), std::move(place)), asio::detached);
  } else if (refusing_ < most_refusals) {
    ++refusing_;
    asio::co_spawn(executor, session->refuse(), [this, session](const std::exception_ptr&) { --refusing_; });
  }
}

asio::awaitable<void> Server::serve(std::shared_ptr<Session> session, std::unique_ptr<Connections::Place> place) {
  try {
    co_await session->run(*place);
  } catch (const std::exception& error) {
    spdlog::error("connection: {}", error.what());
  }
  session.reset();
  place.reset();
  if (has_ended()) asio::post(acceptor_.get_executor(), [this] { end_watching(); });
}

/// What the log keeps back goes out with it.
asio::awaitable<void> Server::watch_deadlines() {
  while (!has_ended()) {
    deadline_check_.expires_after(deadlines_looked_at_every);
    co_await deadline_check_.async_wait(asio::as_tuple(asio::use_awaitable));
    const auto now = Deadline::Clock::now();
    std::erase_if(watched_, [now](const std::weak_ptr<Session>& one) {
      const auto session = one.lock();
      if (session) session->look_at_deadline(now);
      return session == nullptr;
    });
    spdlog::default_logger()->flush();
  }
}

asio::awaitable<void> Server::watch_certificates() {
  for (;;) {
    certificate_check_.expires_after(std::chrono::seconds(config_.tls.check_s));
    const auto [error] = co_await certificate_check_.async_wait(asio::as_tuple(asio::use_awaitable));
    if (error || ending_) co_return;
    certificates_->look();
  }
}

asio::awaitable<void> Server::hear_hangups() {
  for (;;) {
    const auto [error, signal] = co_await hangups_.async_wait(asio::as_tuple(asio::use_awaitable));
    if (error || ending_) co_return;
    spdlog::info("signal {}: looking at the certificate", signal);
    certificates_->look(true);
  }
}

}  // namespace cellarer::http
