// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <variant>

#include <boost/beast/http/message.hpp>
#include <boost/beast/http/span_body.hpp>
#include <boost/beast/http/string_body.hpp>

#include "server/api/dispatcher.hpp"
#include "server/config.hpp"
#include "server/http/static_files.hpp"

/// Between Beast's messages and the API's: what a request asks for, and the answer's header fields.
namespace cellarer::http {

namespace beast_http = boost::beast::http;
using Incoming = beast_http::request<beast_http::string_body>;
using Outgoing = beast_http::response<beast_http::span_body<const char>>;

/// What to do with a request: it is answered already, or work for a worker.
struct Job {
  api::Request request;
  api::Runs runs;
};
using Decision = std::variant<api::Response, Job>;

class Answering {
 public:
  Answering(const api::Dispatcher& dispatcher, const StaticFiles& files) : dispatcher_(dispatcher), files_(files) {}

  /// On an I/O thread: short.
  Decision decide(const Incoming& incoming, const std::string& request_id) const;
  /// On a worker.
  api::Response work(const api::Request& request) const { return dispatcher_.work(request); }

 private:
  const api::Dispatcher& dispatcher_;
  const StaticFiles& files_;
};

/// The answer as Beast sends it, with the security headers. `response` must outlive what is returned: the
/// body's bytes are not copied.
Outgoing outgoing(const api::Response& response, unsigned version, bool keep_alive, const std::string& request_id);

/// Whether the Host header names this machine's loopback. A page of some other name that was made to
/// resolve to 127.0.0.1 must not reach the service through a browser.
bool is_local_host(std::string_view host);

}  // namespace cellarer::http
