// SPDX-License-Identifier: MIT
#include "server/http/session.hpp"

#include <spdlog/spdlog.h>
#include <boost/asio/as_tuple.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/core/error.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/write.hpp>

namespace cellarer::http {

namespace asio = boost::asio;
using boost::system::error_code;

namespace {

constexpr auto result = asio::as_tuple(asio::use_awaitable);  // errors as values: (error, bytes)
constexpr std::size_t most_discarded = 1 << 20;
constexpr std::size_t discarded_at_once = 16'384;

api::Response refusal(ProblemCode code, const std::string& detail) {
  return api::problem_response(Problem(code, detail));
}

/// What went wrong while a request was read; status 0 where there is nobody left to tell.
template <class Parser>
api::Response read_refusal(const error_code& error, const Parser& parser, bool late, const Limits& limits) {
  if (late) return refusal(ProblemCode::request_timeout, "The request did not arrive in time.");
  if (error == beast_http::error::header_limit) {
    // Without a first line that could be read, it is the address that is too long.
    if (parser.get().target().empty()) return refusal(ProblemCode::target_too_long, "The address is too long.");
    return refusal(ProblemCode::header_too_large, "The header fields are too large together.");
  }
  if (error == beast_http::error::body_limit) {
    return refusal(ProblemCode::body_too_large, "The body may have " + std::to_string(limits.body_bytes) + " bytes.");
  }
  const bool is_http = error.category() == beast_http::make_error_code(beast_http::error::bad_method).category();
  if (is_http && error != beast_http::error::end_of_stream && error != beast_http::error::partial_message) {
    return refusal(ProblemCode::bad_request, "This is not a request of HTTP/1.1: " + error.message() + ".");
  }
  api::Response nobody;
  nobody.status = 0;
  return nobody;
}

}  // namespace

std::string Shared::next_request_id() {
  static const auto started = std::chrono::system_clock::now().time_since_epoch().count() / 1'000'000;
  char text[48];
  std::snprintf(text, sizeof text, "%llx-%llu", static_cast<unsigned long long>(started),
                static_cast<unsigned long long>(++requests_));
  return text;
}

void Session::stop() {
  asio::post(stream_.get_executor(), [self = shared_from_this()] {
    self->stopping_ = true;
    if (self->idle_) self->stream_.cancel();
  });
}

asio::awaitable<void> Session::run() {
  const auto self = shared_from_this();
  for (bool keep_alive = true; keep_alive;) {
    if (!co_await wait_for_request()) break;
    Parser parser;
    const auto refused = co_await read_request(parser);
    const auto began = std::chrono::steady_clock::now();
    const Incoming& incoming = parser.get();
    const auto id = shared_.next_request_id();
    if (refused && refused->status == 0) break;  // the client has gone
    api::Response response;
    if (refused)
      response = *refused;
    else
      response = co_await answer(incoming, id);  // not in a ?: expression, which gcc 12 miscompiles with co_await
    keep_alive = !refused && parser.keep_alive() && !stopping_;
    const bool written = co_await write(response, incoming, keep_alive, id);
    const auto took = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count();
    const std::string_view target = incoming.target();
    spdlog::info("request={} {} {} status={} bytes={} ms={:.1f}{}", id, std::string_view(incoming.method_string()),
                 target.substr(0, target.find('?')).substr(0, 200), response.status,
                 response.body ? response.body->size() : 0, took, written ? "" : " not taken");
    if (!written) break;
  }
  co_await linger();
}

asio::awaitable<bool> Session::wait_for_request() {
  if (buffer_.size() > 0) co_return true;  // the next request came with the last one
  if (stopping_) co_return false;
  idle_ = true;
  stream_.expires_after(std::chrono::seconds(shared_.limits.idle_s));
  const auto [error, count] = co_await stream_.async_read_some(buffer_.prepare(4096), result);
  idle_ = false;
  buffer_.commit(count);
  co_return !error;
}

/// None when all is well; otherwise the refusal, with status 0 where nobody is left to hear it.
asio::awaitable<std::optional<api::Response>> Session::read_request(Parser& parser) {
  const Limits& limits = shared_.limits;
  parser.header_limit(static_cast<std::uint32_t>(limits.header_bytes));
  parser.body_limit(limits.body_bytes);
  stream_.expires_never();
  start_deadline(limits.header_s);
  const auto [header_error, header_count] = co_await beast_http::async_read_header(stream_, buffer_, parser, result);
  end_deadline();
  if (header_error) co_return read_refusal(header_error, parser, late_, limits);
  if (parser.get().target().size() > limits.target_bytes) {
    co_return refusal(ProblemCode::target_too_long,
                      "The address may have " + std::to_string(limits.target_bytes) + " bytes.");
  }
  co_await continue_if_expected(parser);
  start_deadline(limits.body_s);
  const auto [error, count] = co_await beast_http::async_read(stream_, buffer_, parser, result);
  end_deadline();
  if (error) co_return read_refusal(error, parser, late_, limits);
  co_return std::nullopt;
}

void Session::start_deadline(int seconds) {
  late_ = false;
  deadline_.expires_after(std::chrono::seconds(seconds));
  deadline_.async_wait([self = shared_from_this(), mine = ++deadlines_](const error_code& error) {
    if (error || mine != self->deadlines_) return;
    self->late_ = true;
    self->stream_.cancel();
  });
}

void Session::end_deadline() {
  ++deadlines_;
  deadline_.cancel();
}

/// A client that asks first (Expect: 100-continue) is told to go on; the header has passed the limits.
asio::awaitable<void> Session::continue_if_expected(const Parser& parser) {
  const auto expect = parser.get().find(beast_http::field::expect);
  if (expect == parser.get().end() || !boost::beast::iequals(expect->value(), "100-continue")) co_return;
  beast_http::response<beast_http::empty_body> go_on{beast_http::status::continue_, 11};
  co_await beast_http::async_write(stream_, go_on, result);
}

asio::awaitable<api::Response> Session::answer(const Incoming& incoming, const std::string& request_id) {
  stream_.expires_never();
  auto decision = shared_.answering.decide(incoming, request_id);
  if (auto* response = std::get_if<api::Response>(&decision)) co_return std::move(*response);
  if (!shared_.workers.has_room()) co_return refusal(ProblemCode::busy, "Too much is waiting. Try again in a moment.");
  const Job& job = std::get<Job>(decision);
  const std::function<api::Response()> work = [this, &job] { return shared_.answering.work(job.request); };
  auto response = co_await shared_.workers.async_run(job.runs, work, asio::use_awaitable);
  co_return response;
}

asio::awaitable<bool> Session::write(const api::Response& response, const Incoming& incoming, bool keep_alive,
                                     const std::string& request_id) {
  stream_.expires_after(std::chrono::seconds(shared_.limits.write_s));
  const unsigned version = incoming.version() == 10 ? 10 : 11;
  Outgoing message = outgoing(response, version, keep_alive, request_id);
  beast_http::response_serializer<beast_http::span_body<const char>> serializer{message};
  error_code error;
  if (incoming.method() == beast_http::verb::head) {
    std::tie(error, std::ignore) = co_await beast_http::async_write_header(stream_, serializer, result);
  } else {
    std::tie(error, std::ignore) = co_await beast_http::async_write(stream_, serializer, result);
  }
  co_return !error;
}

asio::awaitable<void> Session::refuse() {
  const auto self = shared_from_this();
  const Incoming none;
  const auto busy = refusal(ProblemCode::busy, "Too many connections are open. Try again in a moment.");
  const auto id = shared_.next_request_id();
  co_await write(busy, none, false, id);
  co_await linger();
}

/// Lets the client read the last answer: a socket closed with unread bytes is reset, and the answer lost.
asio::awaitable<void> Session::linger() {
  error_code ignored;
  stream_.socket().shutdown(asio::ip::tcp::socket::shutdown_send, ignored);
  stream_.expires_after(std::chrono::seconds(1));
  for (std::size_t discarded = 0; discarded < most_discarded;) {
    buffer_.clear();
    const auto [error, count] = co_await stream_.async_read_some(buffer_.prepare(discarded_at_once), result);
    if (error) break;
    discarded += count;
  }
  stream_.close();
}

}  // namespace cellarer::http
