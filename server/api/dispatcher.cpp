// SPDX-License-Identifier: MIT
#include "server/api/dispatcher.hpp"

#include <spdlog/spdlog.h>

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
  response.set("Cache-Control", "no-cache");
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
  return response;
}

std::optional<Response> Dispatcher::answer_at_once(const Request& request, Runs& runs) const {
  const auto found = match(route_method(request), request.path);
  if (found.methods.empty()) {
    return problem_response(
        Problem(ProblemCode::not_found, "There is nothing here. /api/v1/openapi.json lists every address."));
  }
  if (request.method == "OPTIONS") return options(found);
  if (found.route == nullptr) return method_not_allowed(request, found);
  runs = found.route->runs;
  if (runs == Runs::io) return guarded(request, [&] { return found.route->handler(context_, request, found.parts); });
  if (found.route->shortcut == nullptr) return std::nullopt;
  std::optional<Response> at_once;
  auto response = guarded(request, [&] {
    at_once = found.route->shortcut(context_, request, found.parts);
    return at_once ? *at_once : Response{};
  });
  const bool refused = response.status >= 400;
  if (!at_once && !refused) return std::nullopt;
  return response;
}

Response Dispatcher::work(const Request& request) const {
  const auto found = match(route_method(request), request.path);
  return guarded(request, [&] { return found.route->handler(context_, request, found.parts); });
}

}  // namespace cellarer::api
