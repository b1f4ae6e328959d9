// SPDX-License-Identifier: MIT
#pragma once
#include <memory>

#include <boost/asio/awaitable.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http/parser.hpp>

#include "server/http/answering.hpp"
#include "server/http/workers.hpp"

namespace cellarer::http {

/// What all connections share.
class Shared {
 public:
  Shared(const Limits& of_all, const Answering& all_answering, Workers& all_workers)
      : limits(of_all), answering(all_answering), workers(all_workers) {}

  /// Of this run of the service: unlike any other in the logs.
  std::string next_request_id();

  const Limits& limits;
  const Answering& answering;
  Workers& workers;

 private:
  std::atomic<std::uint64_t> requests_{0};
};

/// One connection: reads requests one after the other, within the limits, and writes the answers. Runs on
/// a strand of its own.
class Session : public std::enable_shared_from_this<Session> {
 public:
  Session(boost::asio::ip::tcp::socket socket, Shared& shared)
      : stream_(std::move(socket)), deadline_(stream_.get_executor()), shared_(shared) {}

  /// Ends when the connection does.
  boost::asio::awaitable<void> run();
  /// Refuses the connection with a 503: there are too many.
  boost::asio::awaitable<void> refuse();
  /// From any thread: the request under way is finished and answered, then the connection is closed; an idle
  /// one is closed now.
  void stop();

 private:
  using Parser = beast_http::request_parser<beast_http::string_body>;

  boost::asio::awaitable<bool> wait_for_request();
  boost::asio::awaitable<std::optional<api::Response>> read_request(Parser& parser);
  boost::asio::awaitable<api::Response> answer(const Incoming& incoming, const std::string& request_id);
  boost::asio::awaitable<bool> write(const api::Response& response, const Incoming& incoming, bool keep_alive,
                                     const std::string& request_id);
  boost::asio::awaitable<void> continue_if_expected(const Parser& parser);
  boost::asio::awaitable<void> linger();

  /// What is being read ends, with the connection open for an answer, when the time is up. (The stream's own
  /// time limit would close the connection.)
  void start_deadline(int seconds);
  void end_deadline();

  boost::beast::tcp_stream stream_;
  boost::beast::flat_buffer buffer_;
  boost::asio::steady_timer deadline_;
  std::uint64_t deadlines_ = 0;  ///< so that one that is over cannot end what is read later
  bool late_ = false;
  Shared& shared_;
  bool idle_ = false;
  bool stopping_ = false;
};

}  // namespace cellarer::http
