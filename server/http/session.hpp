// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <memory>

#include <boost/asio/awaitable.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http/parser.hpp>

#include "server/http/answering.hpp"
#include "server/http/certificates.hpp"
#include "server/http/connections.hpp"
#include "server/http/deadline.hpp"
#include "server/http/known_requests.hpp"
#include "server/http/stream.hpp"
#include "server/http/workers.hpp"

namespace cellarer::http {

/// What all connections share.
struct Shared {
  /// Of this run of the service: unlike any other in the logs.
  std::string next_request_id();

  const Limits& limits;
  const Answering& answering;
  Workers& workers;
  const Certificates* certificates;  ///< none: plain HTTP
  KnownRequests known{};
  std::atomic<std::uint64_t> requests{0};
};

/// What is answered to a request that goes no further.
api::Response refusal(ProblemCode code, const std::string& detail);

class TablePlace;

/// One connection: the handshake where there is TLS, then requests one after the other, each read within the limits
/// and answered before the next is looked at. Runs on a strand of its own.
class Session : public std::enable_shared_from_this<Session> {
 public:
  Session(boost::asio::ip::tcp::socket socket, Peer peer, Shared& shared)
      : stream_(std::move(socket)), wake_(stream_.get_executor()), peer_(std::move(peer)), shared_(shared) {}

  /// Ends when the connection does.
  boost::asio::awaitable<void> run(Connections::Place& place);
  /// Tells that there are too many connections, with a 503. Over TLS that would cost a handshake: nothing is said.
  boost::asio::awaitable<void> refuse();
  /// From any thread: the request under way is finished and answered, then the connection is closed; one that waits
  /// for a request is closed now.
  void stop();
  /// From any thread, now and then: what is being read ends, with the connection open for an answer, when its time is
  /// up. (The stream's own time limit would close the connection.)
  void look_at_deadline(Deadline::Clock::time_point now);

 private:
  using Parser = beast_http::request_parser<beast_http::string_body>;
  using Refused = std::optional<api::Response>;  // none: all is well; status 0: nobody is left to tell

  boost::asio::awaitable<bool> shake_hands();
  boost::asio::awaitable<bool> wait_for_request();
  boost::asio::awaitable<bool> serve_one();
  boost::asio::awaitable<bool> answer_again(std::shared_ptr<const KnownAnswer> known, api::Bytes body,
                                            std::size_t header_size);
  boost::asio::awaitable<bool> answer_anew(std::optional<KnownRequests::Digest> digest);
  void keep(const KnownRequests::Digest& digest, std::string_view header, const Parser& parser,
            const api::Response& response, api::Repeated repeated);
  boost::asio::awaitable<Refused> read_request(Parser& parser);
  boost::asio::awaitable<Refused> read_header(Parser& parser, TablePlace& place);
  boost::asio::awaitable<Refused> read_body(Parser& parser);
  boost::asio::awaitable<api::Response> answer(const Incoming& incoming, const std::string& request_id,
                                               api::Repeated& repeated);
  boost::asio::awaitable<bool> write(const api::Response& response, const Incoming& incoming, const Ending& ending);
  boost::asio::awaitable<bool> write_out(std::array<boost::asio::const_buffer, 2> pieces);
  bool write_at_once(std::array<boost::asio::const_buffer, 2>& pieces);
  /// Events as they come (events.cpp).
  boost::asio::awaitable<bool> write_events(const api::Response& response, const Incoming& incoming,
                                            const Ending& ending);
  boost::asio::awaitable<bool> write_chunk(const std::string& text, bool chunked);
  boost::asio::awaitable<void> watch_listener();
  boost::asio::awaitable<boost::system::error_code> read_more();
  boost::asio::awaitable<void> continue_if_expected(const Incoming& incoming);

  void start_deadline(std::chrono::seconds time);
  void end_if_late();

  Stream stream_;
  boost::beast::flat_buffer buffer_;
  Deadline deadline_;
  boost::asio::steady_timer wake_;  ///< while events are awaited
  bool late_ = false;
  Peer peer_;
  Shared& shared_;
  bool waiting_ = false;  ///< for the handshake or a request: `stop` may cut it, and whoever waited ends that deadline
  bool stopping_ = false;
  bool woken_ = false, listener_left_ = false;
};

}  // namespace cellarer::http
