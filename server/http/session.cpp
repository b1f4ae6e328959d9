// SPDX-License-Identifier: MIT
#include "server/http/session.hpp"

#include <spdlog/spdlog.h>
#include <boost/asio/use_awaitable.hpp>

#include "server/http/text.hpp"

namespace cellarer::http {

namespace asio = boost::asio;
using boost::system::error_code;

namespace {

constexpr std::size_t kept_buffer = 4096;  // by a connection that waits
constexpr int most_grace_s = 5;

}  // namespace

std::string Shared::next_request_id() {
  static const auto started = std::chrono::system_clock::now().time_since_epoch().count() / 1'000'000;
  char text[48];
  std::snprintf(text, sizeof text, "%llx-%llu", static_cast<unsigned long long>(started),
                static_cast<unsigned long long>(++requests));
  return text;
}

void Session::stop() {
  asio::post(stream_.get_executor(), [self = shared_from_this()] {
    self->stopping_ = true;
    self->wake_.cancel();
    if (self->waiting_) self->await_deadline(std::chrono::milliseconds(0), self->deadlines_);
  });
}

asio::awaitable<void> Session::run(Connections::Place& place) {
  const auto self = shared_from_this();
  if (!co_await shake_hands()) co_return;
  for (;;) {
    place.waits();
    const bool has_come = co_await wait_for_request();
    if (!has_come && stopping_) co_return;  // others need the room, or the service ends: no goodbye
    if (!has_come) break;
    place.works();
    const bool goes_on = co_await serve_one();
    if (!goes_on) break;
  }
  co_await stream_.linger();
}

asio::awaitable<bool> Session::shake_hands() {
  if (shared_.certificates == nullptr) co_return true;
  if (stopping_) co_return false;
  waiting_ = true;
  const auto context = shared_.certificates->context();
  const auto error = co_await stream_.secure(*context, shared_.limits.handshake_s);
  end_deadline();
  waiting_ = false;
  if (!error) co_return true;
  spdlog::info("connection: no TLS: {}", error.message());
  co_await stream_.linger();  // so that the alert, which says why, arrives
  co_return false;
}

/// Whether the first bytes of a request are there. A client is told how long its connection may wait (Keep-Alive), and
/// is given more than that: what it sent just before its time was up is still on its way.
asio::awaitable<bool> Session::wait_for_request() {
  if (buffer_.size() > 0) co_return true;  // the next request came with the last one
  if (buffer_.capacity() > kept_buffer) buffer_.shrink_to_fit();
  if (stopping_) co_return false;
  waiting_ = true;
  const int idle_s = shared_.limits.idle_s;
  start_deadline(std::chrono::seconds(idle_s + std::min(idle_s, most_grace_s)));
  const auto [error, count] = co_await stream_.read_some(buffer_.prepare(kept_buffer));
  end_deadline();
  waiting_ = false;
  buffer_.commit(count);
  // What arrived in the very moment in which the waiting was ended is read all the same.
  co_return !error || (error == asio::error::operation_aborted && stream_.has_arrived());
}

/// Whether the connection goes on.
asio::awaitable<bool> Session::serve_one() {
  Parser parser;
  const auto refused = co_await read_request(parser);
  const auto began = std::chrono::steady_clock::now();
  if (refused && refused->status == 0) co_return false;  // the client has gone
  const Incoming& incoming = parser.get();
  Ending ending;
  ending.request_id = shared_.next_request_id();
  api::Response response;
  if (refused)
    response = *refused;
  else
    response = co_await answer(incoming, ending.request_id);  // not in a ?:, which gcc 12 miscompiles with co_await
  shared_.answering.shorten(response, incoming);
  const bool lasts = !refused && parser.keep_alive() && !stopping_ && !response.events;
  ending.keep_alive_s = lasts ? shared_.limits.idle_s : 0;
  bool written = false;
  if (response.events)
    written = co_await write_events(response, incoming, ending);
  else
    written = co_await write(response, incoming, ending);
  const auto took = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count();
  const std::string_view target = incoming.target();
  spdlog::info("request={} {} {} status={} bytes={} ms={:.1f}{}", ending.request_id,
               std::string_view(incoming.method_string()), target.substr(0, target.find('?')).substr(0, 200),
               response.status, response.body ? response.body->size() : 0, took, written ? "" : " not taken");
  co_return written&& ending.keep_alive_s > 0;
}

void Session::start_deadline(std::chrono::seconds time) {
  late_ = false;
  await_deadline(time, ++deadlines_);
}

/// What is cancelled may just have got some bytes and be about to read on; so it is cancelled until it has ended.
void Session::await_deadline(std::chrono::milliseconds time, std::uint64_t number) {
  deadline_.expires_after(time);
  deadline_.async_wait([self = shared_from_this(), number](const error_code& error) {
    if (error || number != self->deadlines_) return;
    self->late_ = true;
    self->stream_.cancel();
    self->await_deadline(std::chrono::milliseconds(100), number);
  });
}

void Session::end_deadline() {
  ++deadlines_;
  deadline_.cancel();
}

/// A client that asks first (Expect: 100-continue) is told to go on; the header has passed the limits.
asio::awaitable<void> Session::continue_if_expected(const Incoming& incoming) {
  const auto expect = incoming.find(beast_http::field::expect);
  if (expect == incoming.end() || lower_case(expect->value()) != "100-continue" || incoming.version() < 11) co_return;
  constexpr std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";
  co_await stream_.write({asio::buffer(go_on), {}}, shared_.limits.write_s);
}

asio::awaitable<api::Response> Session::answer(const Incoming& incoming, const std::string& request_id) {
  auto decision = shared_.answering.decide(incoming, peer_, request_id);
  if (auto* response = std::get_if<api::Response>(&decision)) co_return std::move(*response);
  const Job& job = std::get<Job>(decision);
  if (!shared_.workers.has_room(job.runs)) {
    if (job.runs != api::Runs::sign_in)
      co_return refusal(ProblemCode::busy, "Too much is waiting. Try again in a moment.");
    co_return refusal(ProblemCode::too_many_attempts, "Many are signing in just now. Try again in ten seconds.");
  }
  const std::function<api::Response()> work = [this, &job] { return shared_.answering.work(job.request); };
  auto response = co_await shared_.workers.async_run(job.runs, work, asio::use_awaitable);
  co_return response;
}

asio::awaitable<bool> Session::write(const api::Response& response, const Incoming& incoming, const Ending& ending) {
  const std::string header = shared_.answering.header(response, incoming, peer_, ending);
  const bool has_body = response.body && incoming.method() != beast_http::verb::head;
  const asio::const_buffer body = has_body ? asio::buffer(*response.body) : asio::const_buffer();
  const auto error = co_await stream_.write({asio::buffer(header), body}, shared_.limits.write_s);
  co_return !error;
}

asio::awaitable<void> Session::refuse() {
  const auto self = shared_from_this();
  if (shared_.certificates != nullptr) co_return;
  const Incoming none;
  const auto busy = refusal(ProblemCode::busy, "Too many connections are open. Try again in a moment.");
  Ending ending;
  ending.request_id = shared_.next_request_id();
  co_await write(busy, none, ending);
  co_await stream_.linger();
}

}  // namespace cellarer::http
