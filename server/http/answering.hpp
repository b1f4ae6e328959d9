// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <variant>

#include <boost/beast/http/message.hpp>
#include <boost/beast/http/string_body.hpp>

#include "server/api/dispatcher.hpp"
#include "server/http/compression.hpp"
#include "server/http/static_files.hpp"
#include "server/http/visitor.hpp"

/// Between Beast's messages and the API's: what a request asks for, and the answer's header fields.
namespace cellarer::http {

namespace beast_http = boost::beast::http;
using Incoming = beast_http::request<beast_http::string_body>;

/// What to do with a request: it is answered already, or work for a worker.
struct Job {
  api::Request request;
  api::Runs runs;
};
using Decision = std::variant<api::Response, Job>;

/// What an answer says beside its content.
struct Ending {
  std::string request_id;
  int keep_alive_s = 0;  ///< how long the connection then waits for the next request; 0: it ends
};

class Answering {
 public:
  Answering(const api::Dispatcher& dispatcher, const StaticFiles& files, const Reception& reception)
      : dispatcher_(dispatcher), files_(files), reception_(reception) {}

  /// On an I/O thread: short. Where the answer is one that the same request would get again, `repeated` says so long as
  /// it would.
  Decision decide(const Incoming& incoming, const Peer& peer, const std::string& request_id,
                  api::Repeated& repeated) const;
  /// On a worker; as `Dispatcher::work` says.
  void work(const api::Request& request, const api::Dispatcher::Post& post,
            const api::Dispatcher::Answered& answered) const {
    dispatcher_.work(request, post, answered);
  }

  /// On an I/O thread: the body in the shortest form that the client takes, where that is kept.
  void shorten(api::Response& response, const Incoming& incoming) const;

  /// What goes before the answer's body: status line and fields, with those that protect a browser.
  std::string header(const api::Response& response, const Incoming& incoming, const Peer& peer,
                     const Ending& ending) const {
    return opening(incoming.version(), response.status, ending) + fields(response, incoming, peer);
  }
  /// The same in two pieces: what differs from one answer to the next, and what follows from request and content.
  static std::string opening(unsigned version, int status, const Ending& ending);
  std::string fields(const api::Response& response, const Incoming& incoming, const Peer& peer) const;

 private:
  const api::Dispatcher& dispatcher_;
  const StaticFiles& files_;
  const Reception& reception_;
  mutable Compression compression_;
};

}  // namespace cellarer::http
