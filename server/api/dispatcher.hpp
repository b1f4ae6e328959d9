// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/repeated.hpp"
#include "server/api/routes.hpp"

namespace cellarer::api {

/// From request to answer. The one place where exceptions end: refusals of readers and problems of use
/// cases become RFC 9457 documents; what nobody foresaw becomes `internal`, with the cause in the log alone.
class Dispatcher {
 public:
  explicit Dispatcher(Context context) : context_(context) {}

  /// On an I/O thread: answers what needs no worker (a problem of the address, OPTIONS, a short read, kept
  /// bytes). None: call `work` on the kind of worker that `runs` names.
  /// Notes in the request who asks.
  std::optional<Response> answer_at_once(Request& request, Runs& runs) const;
  /// `answered` is called once, now or later, with the answer. While the disk is at a write no thread waits: what
  /// remains to be done is then given to `post`, which runs it on a worker. The request lives until then. Throws where
  /// no answer can be made any more; then `answered` was not called.
  using Post = std::function<void(std::function<void()>)>;
  using Answered = std::function<void(Response)>;
  void work(const Request& request, const Post& post, const Answered& answered) const;
  /// Of what `answer_at_once` answered to this request.
  Repeated repeated(const Request& request, const Response& response) const {
    return api::repeated(context_, request, response);
  }

 private:
  std::optional<Response> short_answer(const Request& request, const Match& found) const;
  Response finished(const Request& request, const Match& found, Response response) const;
  void renew_token(const Request& request, Response& response) const;

  Context context_;
};

/// The answer for a problem; used by the HTTP room for its own refusals too.
Response problem_response(const Problem& problem);

}  // namespace cellarer::api
