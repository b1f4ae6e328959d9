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

std::string hexadecimal(std::int64_t number) {
  char text[24];
  std::snprintf(text, sizeof text, "%llx", static_cast<unsigned long long>(number));
  return text;
}

/// The header at the front of what was read, with its empty line; empty where it is not whole yet.
std::string_view whole_header(const boost::beast::flat_buffer& buffer) {
  constexpr std::string_view end_of_header = "\r\n\r\n";
  const std::string_view read(static_cast<const char*>(buffer.data().data()), buffer.size());
  const auto end = read.find(end_of_header);
  return end == std::string_view::npos ? std::string_view() : read.substr(0, end + end_of_header.size());
}

std::string_view target_for_log(std::string_view target) { return target.substr(0, target.find('?')).substr(0, 200); }

struct Answered {
  std::string_view request_id, method, target;
  int status;
  std::size_t bytes;
  std::chrono::steady_clock::time_point began;
  bool written;
};

void log_answer(const Answered& it) {
  const auto took = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - it.began).count();
  spdlog::info("request={} {} {} status={} bytes={} ms={:.3f}{}", it.request_id, it.method, it.target, it.status,
               it.bytes, took, it.written ? "" : " not taken");
}

}  // namespace

std::string Shared::next_request_id() {
  static const auto run = hexadecimal(std::chrono::system_clock::now().time_since_epoch().count() / 1'000'000) + "-";
  return run + std::to_string(++requests);
}

void Session::stop() {
  asio::post(stream_.get_executor(), [self = shared_from_this()] {
    self->stopping_ = true;
    self->wake_.cancel();
    if (!self->waiting_) return;
    self->deadline_.start(std::chrono::milliseconds(0));
    self->end_if_late();
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
  deadline_.end();
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
  deadline_.end();
  waiting_ = false;
  buffer_.commit(count);
  // What arrived in the very moment in which the waiting was ended is read all the same.
  co_return !error || (error == asio::error::operation_aborted && stream_.has_arrived());
}

/// Whether the connection goes on.
asio::awaitable<bool> Session::serve_one() {
  const auto header = whole_header(buffer_);
  if (!KnownRequests::may_be_known(header)) return answer_anew(std::nullopt);
  const auto digest = shared_.known.digest(peer_, header);
  auto known = shared_.known.find(digest);
  if (!known) return answer_anew(digest);
  auto body = known->body.lock();
  const bool there = body || !known->has_body;
  if (there && known->still_so(std::string(header.substr(known->token_at, known->token_size))))
    return answer_again(std::move(known), std::move(body), header.size());
  shared_.known.forget(digest);
  return answer_anew(digest);
}

/// A request that was checked, understood and answered before, and whose answer still holds.
asio::awaitable<bool> Session::answer_again(std::shared_ptr<const KnownAnswer> known, api::Bytes body,
                                            std::size_t header_size) {
  const auto began = std::chrono::steady_clock::now();
  buffer_.consume(header_size);
  Ending ending;
  ending.request_id = shared_.next_request_id();
  ending.keep_alive_s = known->keeps_alive && !stopping_ ? shared_.limits.idle_s : 0;
  std::string head = Answering::opening(known->version, known->status, ending);
  head += known->fields;
  std::array<asio::const_buffer, 2> pieces{asio::buffer(head), body ? asio::buffer(*body) : asio::const_buffer()};
  bool written = write_at_once(pieces);
  if (!written) written = co_await write_out(pieces);
  log_answer({ending.request_id, "GET", known->target, known->status, body ? body->size() : 0, began, written});
  co_return written&& ending.keep_alive_s > 0;
}

asio::awaitable<bool> Session::answer_anew(std::optional<KnownRequests::Digest> digest) {
  std::string header(digest ? whole_header(buffer_) : std::string_view());
  Parser parser;
  const auto refused = co_await read_request(parser);
  const auto began = std::chrono::steady_clock::now();
  if (refused && refused->status == 0) co_return false;  // the client has gone
  const Incoming& incoming = parser.get();
  Ending ending;
  ending.request_id = shared_.next_request_id();
  api::Response response;
  api::Repeated repeated;
  if (refused)
    response = *refused;
  else  // not in a ?:, which gcc 12 miscompiles with co_await
    response = co_await answer(incoming, ending.request_id, repeated);
  shared_.answering.shorten(response, incoming);
  if (digest && repeated.still_so) keep(*digest, header, parser, response, std::move(repeated));
  const bool lasts = !refused && parser.keep_alive() && !stopping_ && !response.events;
  ending.keep_alive_s = lasts ? shared_.limits.idle_s : 0;
  bool written = false;
  if (response.events)
    written = co_await write_events(response, incoming, ending);
  else
    written = co_await write(response, incoming, ending);
  log_answer({ending.request_id, incoming.method_string(), target_for_log(incoming.target()), response.status,
              response.body ? response.body->size() : 0, began, written});
  co_return written&& ending.keep_alive_s > 0;
}

/// For the next time. A request with a body is not one of those: its header alone does not say what it asks.
void Session::keep(const KnownRequests::Digest& digest, std::string_view header, const Parser& parser,
                   const api::Response& response, api::Repeated repeated) {
  const Incoming& incoming = parser.get();
  const auto token_at = header.find(repeated.token);
  if (!incoming.body().empty() || token_at == std::string_view::npos) return;
  KnownAnswer answer;
  answer.version = incoming.version();
  answer.keeps_alive = parser.keep_alive();
  answer.status = response.status;
  answer.target = target_for_log(incoming.target());
  answer.fields = shared_.answering.fields(response, incoming, peer_);
  answer.has_body = response.body != nullptr;
  answer.body = response.body;
  answer.token_at = token_at;
  answer.token_size = repeated.token.size();
  answer.still_so = std::move(repeated.still_so);
  shared_.known.keep(digest, std::move(answer));
}

void Session::start_deadline(std::chrono::seconds time) {
  late_ = false;
  deadline_.start(time);
}

/// What is cancelled may just have got some bytes and be about to read on; so it is looked at until it has ended.
void Session::look_at_deadline(Deadline::Clock::time_point now) {
  if (!deadline_.is_over(now)) return;
  asio::post(stream_.get_executor(), [self = shared_from_this()] { self->end_if_late(); });
}

void Session::end_if_late() {
  if (!deadline_.is_over(Deadline::Clock::now())) return;
  late_ = true;
  stream_.cancel();
}

/// A client that asks first (Expect: 100-continue) is told to go on; the header has passed the limits.
asio::awaitable<void> Session::continue_if_expected(const Incoming& incoming) {
  const auto expect = incoming.find(beast_http::field::expect);
  if (expect == incoming.end() || lower_case(expect->value()) != "100-continue" || incoming.version() < 11) co_return;
  constexpr std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";
  co_await stream_.write({asio::buffer(go_on), {}}, shared_.limits.write_s);
}

asio::awaitable<api::Response> Session::answer(const Incoming& incoming, const std::string& request_id,
                                               api::Repeated& repeated) {
  auto decision = shared_.answering.decide(incoming, peer_, request_id, repeated);
  if (auto* response = std::get_if<api::Response>(&decision)) co_return std::move(*response);
  const Job& job = std::get<Job>(decision);
  if (!shared_.workers.has_room(job.runs)) {
    if (job.runs != api::Runs::sign_in)
      co_return refusal(ProblemCode::busy, "Too much is waiting. Try again in a moment.");
    co_return refusal(ProblemCode::too_many_attempts, "Many are signing in just now. Try again in ten seconds.");
  }
  const Workers::Work work = [this, &job](const Workers::Post& post, const Workers::Answered& answered) {
    shared_.answering.work(job.request, post, answered);
  };
  auto response = co_await shared_.workers.async_run(job.runs, work, asio::use_awaitable);
  co_return response;
}

asio::awaitable<bool> Session::write(const api::Response& response, const Incoming& incoming, const Ending& ending) {
  const std::string header = shared_.answering.header(response, incoming, peer_, ending);
  const bool has_body = response.body && incoming.method() != beast_http::verb::head;
  const asio::const_buffer body = has_body ? asio::buffer(*response.body) : asio::const_buffer();
  std::array<asio::const_buffer, 2> pieces{asio::buffer(header), body};
  bool written = write_at_once(pieces);
  if (!written) written = co_await write_out(pieces);
  co_return written;
}

/// Most answers go out whole with one call of the system, and then nothing needs to be waited for. Otherwise the rest
/// is left in `pieces`.
bool Session::write_at_once(std::array<asio::const_buffer, 2>& pieces) {
  std::size_t sent = stream_.write_now(pieces);
  for (asio::const_buffer& piece : pieces) {
    const auto part = std::min(sent, piece.size());
    piece += part;
    sent -= part;
  }
  return pieces[0].size() + pieces[1].size() == 0;
}

asio::awaitable<bool> Session::write_out(std::array<asio::const_buffer, 2> pieces) {
  const auto error = co_await stream_.write(pieces, shared_.limits.write_s);
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
