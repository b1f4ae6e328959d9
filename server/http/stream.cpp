// SPDX-License-Identifier: MIT
#include "server/http/stream.hpp"

#include <boost/asio/as_tuple.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/asio/write.hpp>

namespace cellarer::http {

namespace asio = boost::asio;
using std::chrono::seconds;

namespace {
constexpr auto result = asio::as_tuple(asio::use_awaitable);  // errors as values: (error, bytes)
constexpr std::size_t most_discarded = 1 << 20;
constexpr int linger_s = 1;
}  // namespace

asio::awaitable<Stream::Error> Stream::secure(asio::ssl::context& context, int within_s) {
  tls_.emplace(tcp_, context);
  tcp_.expires_after(seconds(within_s));
  const auto [error] = co_await tls_->async_handshake(asio::ssl::stream_base::server, result);
  tcp_.expires_never();
  co_return error;
}

asio::awaitable<std::pair<Stream::Error, std::size_t>> Stream::read_some(asio::mutable_buffer to) {
  if (tls_) {
    const auto [error, count] = co_await tls_->async_read_some(to, result);
    co_return std::pair(error, count);
  }
  const auto [error, count] = co_await tcp_.async_read_some(to, result);
  co_return std::pair(error, count);
}

std::size_t Stream::write_now(std::array<asio::const_buffer, 2> from) {
  if (tls_) return 0;
  Error error;
  if (!tcp_.socket().non_blocking()) tcp_.socket().non_blocking(true, error);
  if (error) return 0;
  const auto count = tcp_.socket().write_some(from, error);
  return error ? 0 : count;  // what is wrong is found again by whoever writes the rest
}

asio::awaitable<Stream::Error> Stream::write(std::array<asio::const_buffer, 2> from, int within_s) {
  tcp_.expires_after(seconds(within_s));
  Error failed;
  if (tls_) {
    const auto [error, count] = co_await asio::async_write(*tls_, from, result);
    failed = error;
  } else {
    const auto [error, count] = co_await asio::async_write(tcp_, from, result);
    failed = error;
  }
  tcp_.expires_never();
  co_return failed;
}

asio::awaitable<void> Stream::until_readable() {
  co_await tcp_.socket().async_wait(asio::ip::tcp::socket::wait_read, result);
}

bool Stream::has_arrived() {
  Error error;
  return tcp_.socket().available(error) > 0 && !error;
}

asio::awaitable<void> Stream::linger() {
  tcp_.expires_after(seconds(linger_s));
  if (tls_) co_await tls_->async_shutdown(result);  // an error means only that the client did not say goodbye
  Error ignored;
  tcp_.socket().shutdown(asio::ip::tcp::socket::shutdown_send, ignored);
  std::array<char, 4096> nowhere{};
  for (std::size_t discarded = 0; discarded < most_discarded;) {
    const auto [error, count] = co_await tcp_.async_read_some(asio::buffer(nowhere), result);
    if (error) break;
    discarded += count;
  }
  tcp_.close();
}

}  // namespace cellarer::http
