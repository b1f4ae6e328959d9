// SPDX-License-Identifier: MIT
#include "server/api/dispatcher.hpp"

#include <spdlog/spdlog.h>

#include "server/access/access_service.hpp"
#include "server/access/cookie.hpp"
#include "server/api/gate.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

Response method_not_allowed(const Request& request, const Match& found) {
  auto response =
      problem_response(Problem(ProblemCode::method_not_allowed,
                               "This address takes " + joined(found.methods) + ", not " + request.method + "."));
  response.set("Allow", joined(found.methods));
  return response;
}

Response options(const Match& found) {
  Response response;
  response.status = 204;
  response.set("Allow", joined(found.methods));
  return response;
}

/// Reads get an entity tag, and 304 where the client has that version.
Response with_version(const Request& request, Response response) {
  if ((request.method != "GET" && request.method != "HEAD") || response.status != 200 || !response.body)
    return response;
  std::string etag;
  for (const auto& [name, value] : response.headers) {
    if (name == "ETag") etag = value;
  }
  if (etag.empty()) {
    etag = entity_tag(*response.body);
    response.set("ETag", etag);
  }
  response.set("Cache-Control", "private, no-cache");
  if (has_version(request, etag)) {
    response.status = 304;
    response.body = nullptr;
  }
  return response;
}

/// Runs one handler; nothing that is thrown gets past this.
template <class Work>
Response guarded(const Request& request, const Work& work) {
  try {
    return with_version(request, work());
  } catch (const Problem& problem) {
    return problem_response(problem);
  } catch (const json::Refused& refused) {
    const ProblemKind& kind = kind_named(refused.code());
    return problem_response(Problem(kind.code, refused.what(), {{refused.place(), refused.code(), refused.reason()}}));
  } catch (const service::StoreError& error) {
    spdlog::error("request={} store: {}", request.id, error.what());
    return problem_response(Problem(ProblemCode::store_unavailable,
                                    "The service could not reach its store. Nothing was kept: send it again later."));
  } catch (const std::exception& error) {
    spdlog::error("request={} {}", request.id, error.what());
    return problem_response(Problem(ProblemCode::internal,
                                    "The service could not do this. Request " + request.id + " in its log says why."));
  }
}

std::string route_method(const Request& request) { return request.method == "HEAD" ? "GET" : request.method; }

}  // namespace

Response problem_response(const Problem& problem) {
  auto response = json_response(problem_document(problem), kind_of(problem.code()).status);
  response.content_type = "application/problem+json";
  response.set("Cache-Control", "no-store");
  if (response.status == 503) response.set("Retry-After", "2");
  if (response.status == 429) response.set("Retry-After", std::to_string(problem.more.value("retry_after_s", 10)));
  return response;
}

std::optional<Response> Dispatcher::answer_at_once(Request& request, Runs& runs) const {
  const auto found = match(route_method(request), request.path);
  if (found.methods.empty()) {
    return problem_response(
        Problem(ProblemCode::not_found, "There is nothing here. /api/v1/openapi.json lists every address."));
  }
  if (request.method == "OPTIONS") return options(found);
  if (found.route == nullptr) return method_not_allowed(request, found);
  std::optional<Response> at_once;
  auto response = guarded(request, [&] {
    admit(context_, request, found);
    at_once = short_answer(request, found);
    return at_once ? *at_once : Response{};
  });
  const bool refused = response.status >= 400;
  if (at_once || refused) return response;
  runs = found.route->runs;
  if (request.rotation_due && runs != Runs::sign_in) runs = Runs::write;
  return std::nullopt;
}

/// From memory. None: a worker has to be asked, for a new token at least.
std::optional<Response> Dispatcher::short_answer(const Request& request, const Match& found) const {
  if (request.rotation_due) return std::nullopt;
  const Route& route = *found.route;
  if (route.runs == Runs::io) return route.handler(context_, request, parts_of(request, found));
  if (route.shortcut == nullptr) return std::nullopt;
  return route.shortcut(context_, request, parts_of(request, found));
}

void Dispatcher::work(const Request& request, const Post& post, const Answered& answered) const {
  const auto found = match(route_method(request), request.path);
  auto response = guarded(request, [&] { return found.route->handler(context_, request, parts_of(request, found)); });
  if (!response.after) return answered(finished(request, found, std::move(response)));
  response.after([this, &request, found, post, answered](Rest rest) {
    post([this, &request, found, answered, rest = std::move(rest)] {
      answered(finished(request, found, guarded(request, rest)));
    });
  });
}

Response Dispatcher::finished(const Request& request, const Match& found, Response response) const {
  forgive_attempt(context_, request, found, response.status);
  if (request.rotation_due) renew_token(request, response);
  return response;
}

/// An answer that has its own cookie keeps it. Where the store fails the old token stays good, and is renewed later.
void Dispatcher::renew_token(const Request& request, Response& response) const {
  for (const auto& [name, value] : response.headers) {
    if (name == "Set-Cookie") return;
  }
  try {
    const auto token = access::session_token(header(request, "cookie").value_or(""));
    if (!token) return;
    if (const auto fresh = context_.access.sessions().rotate(*token)) {
      response.set("Set-Cookie", access::set_cookie(*fresh));
    }
  } catch (const std::exception& error) {
    spdlog::error("request={} renewing a session's token: {}", request.id, error.what());
  }
}

}  // namespace cellarer::api
