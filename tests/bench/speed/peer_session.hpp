// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <memory>
#include <optional>

#include <boost/asio/ip/tcp.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>

/// An HTTP server as Beast's own examples have it: one thread, callbacks, a deadline for each message. What is answered
/// is all that differs between the peers.
namespace cellarer::bench {

namespace beast_http = boost::beast::http;
using PeerRequest = beast_http::request<beast_http::string_body>;
using PeerResponse = beast_http::response<beast_http::string_body>;
/// A response that stays the caller's until it is written: one that is kept may be written to many at once.
using PeerAnswer = std::function<std::shared_ptr<const PeerResponse>(const PeerRequest&)>;

class PeerSession : public std::enable_shared_from_this<PeerSession> {
 public:
  PeerSession(boost::asio::ip::tcp::socket socket, const PeerAnswer& answer)
      : stream_(std::move(socket)), answer_(answer) {}

  void read() {
    request_ = {};
    stream_.expires_after(std::chrono::seconds(30));
    beast_http::async_read(stream_, buffer_, request_,
                           [self = shared_from_this()](const boost::system::error_code& error, std::size_t) {
                             if (!error) self->write();
                           });
  }

 private:
  void write() {
    response_ = answer_(request_);
    serializer_.emplace(*response_);
    beast_http::async_write(stream_, *serializer_,
                            [self = shared_from_this()](const boost::system::error_code& error, std::size_t) {
                              if (!error) self->read();
                            });
  }

  boost::beast::tcp_stream stream_;
  boost::beast::flat_buffer buffer_;
  const PeerAnswer& answer_;
  PeerRequest request_;
  std::shared_ptr<const PeerResponse> response_;
  std::optional<beast_http::response_serializer<beast_http::string_body, beast_http::fields>> serializer_;
};

}  // namespace cellarer::bench
