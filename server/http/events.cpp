// SPDX-License-Identifier: MIT
// Session's writing of an answer without an end: chunks (RFC 9112, 7.1) as there is something to say, and a comment now
// and then, so that a proxy does not close what is silent and a client that is gone is noticed.
#include <boost/asio/as_tuple.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/http/chunk_encode.hpp>

#include "server/http/session.hpp"

namespace cellarer::http {

namespace asio = boost::asio;

namespace {

const std::string heartbeat = ":\n\n";

}  // namespace

/// A listener says nothing more: whatever arrives, or the end, ends the stream.
asio::awaitable<void> Session::watch_listener() {
  const auto self = shared_from_this();
  co_await stream_.until_readable();
  listener_left_ = true;
  wake_.cancel();
}

asio::awaitable<bool> Session::write_chunk(const std::string& text, bool chunked) {
  if (!chunked) {
    const auto error = co_await stream_.write({asio::buffer(text), {}}, shared_.limits.write_s);
    co_return !error;
  }
  std::string framed;
  for (const asio::const_buffer part : beast_http::make_chunk(asio::buffer(text)))
    framed.append(static_cast<const char*>(part.data()), part.size());
  const auto error = co_await stream_.write({asio::buffer(framed), {}}, shared_.limits.write_s);
  co_return !error;
}

/// Until the source ends it, the client goes, or the service ends. The connection ends with it.
asio::awaitable<bool> Session::write_events(const api::Response& response, const Incoming& incoming,
                                            const Ending& ending) {
  const bool chunked = incoming.version() >= 11;
  const auto source = response.events;
  source->on_change([weak = weak_from_this()] {
    const auto self = weak.lock();
    if (!self) return;
    asio::post(self->stream_.get_executor(), [self] {
      self->woken_ = true;
      self->wake_.cancel();
    });
  });
  const std::string header = shared_.answering.header(response, incoming, peer_, ending);
  const auto failed = co_await stream_.write({asio::buffer(header), {}}, shared_.limits.write_s);
  if (failed) co_return false;
  asio::co_spawn(stream_.get_executor(), watch_listener(), asio::detached);
  bool silent = false;
  while (!stopping_ && !listener_left_) {
    woken_ = false;
    const auto text = source->next();
    if (!text) break;
    const std::string said = text->empty() && silent ? heartbeat : *text;
    if (!said.empty()) {
      const bool written = co_await write_chunk(said, chunked);
      if (!written) co_return false;
    }
    silent = false;
    if (woken_ || stopping_ || listener_left_) continue;
    wake_.expires_after(std::chrono::seconds(shared_.limits.heartbeat_s));
    const auto [interrupted] = co_await wake_.async_wait(asio::as_tuple(asio::use_awaitable));
    silent = !interrupted;
  }
  stream_.cancel();  // the watching
  if (listener_left_ || !chunked) co_return true;
  constexpr std::string_view last_chunk = "0\r\n\r\n";
  const auto error = co_await stream_.write({asio::buffer(last_chunk), {}}, shared_.limits.write_s);
  co_return !error;
}

}  // namespace cellarer::http
