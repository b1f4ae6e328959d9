// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <utility>

#include <boost/asio/awaitable.hpp>
#include <boost/asio/buffer.hpp>
#include <boost/asio/ssl/stream.hpp>
#include <boost/beast/core/tcp_stream.hpp>

namespace cellarer::http {

/// The bytes of one connection: plain, or through TLS once `secure` was called; nothing above asks which it is.
/// Everything runs on the connection's strand.
class Stream {
 public:
  template <class Result>
  using Awaitable = boost::asio::awaitable<Result>;
  using Error = boost::system::error_code;

  explicit Stream(boost::asio::ip::tcp::socket socket) : tcp_(std::move(socket)) {}
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;

  auto get_executor() { return tcp_.get_executor(); }

  /// The server's side of the handshake, within `seconds`; the error that ended it.
  Awaitable<Error> secure(boost::asio::ssl::context& context, int seconds);

  /// What has come, as soon as something has: its bytes, or the error that ended the waiting.
  Awaitable<std::pair<Error, std::size_t>> read_some(boost::asio::mutable_buffer to);
  /// As much of both pieces as the system takes at once: how many bytes; none over TLS.
  std::size_t write_now(std::array<boost::asio::const_buffer, 2> from);
  /// Both pieces whole, within `seconds`, or the connection is closed.
  Awaitable<Error> write(std::array<boost::asio::const_buffer, 2> from, int seconds);

  /// Returns when bytes have arrived, the other end has closed, or `cancel` was called; reads nothing.
  Awaitable<void> until_readable();
  /// What is being read ends with an error; the connection stays open.
  void cancel() { tcp_.cancel(); }
  /// Whether bytes have arrived that nobody has read.
  bool has_arrived();

  /// Says that nothing more is sent, and reads on for a moment: a socket that is closed with unread bytes is reset,
  /// and the client would lose the last answer.
  Awaitable<void> linger();

 private:
  boost::beast::tcp_stream tcp_;
  std::optional<boost::asio::ssl::stream<boost::beast::tcp_stream&>> tls_;
};

}  // namespace cellarer::http
