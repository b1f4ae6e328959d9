// SPDX-License-Identifier: MIT
#include "server/http/answering.hpp"

#include <chrono>

#include <date/date.h>

#include "server/http/target.hpp"

namespace cellarer::http {

namespace {

// The pages' scripts, styles and data come from this service and from nowhere else; nothing inline.
constexpr const char* content_security_policy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

api::Request api_request(const Incoming& incoming, Target target, const std::string& request_id) {
  api::Request request;
  request.method = std::string(incoming.method_string());
  request.path = std::move(target.path);
  request.query = std::move(target.query);
  request.body = incoming.body();
  request.id = request_id;
  for (const char* name : api::heard_headers) {
    if (const auto found = incoming.find(name); found != incoming.end()) request.headers[name] = found->value();
  }
  return request;
}

std::optional<std::string> field(const Incoming& incoming, beast_http::field name) {
  const auto found = incoming.find(name);
  if (found == incoming.end()) return std::nullopt;
  return std::string(found->value());
}

api::Response page(const StaticFiles& files, const Incoming& incoming, const Target& target) {
  const auto method = incoming.method();
  if (method == beast_http::verb::get || method == beast_http::verb::head) {
    return files.get(target.path, field(incoming, beast_http::field::accept_encoding).value_or(""),
                     field(incoming, beast_http::field::if_none_match));
  }
  api::Response response;
  response.status = 204;
  if (method != beast_http::verb::options) {
    response = api::problem_response(Problem(ProblemCode::method_not_allowed, "Pages are only read."));
  }
  response.set("Allow", "GET, HEAD, OPTIONS");
  return response;
}

}  // namespace

bool is_local_host(std::string_view host) {
  if (host.starts_with("["))
    host = host.substr(0, host.find(']') + 1);
  else
    host = host.substr(0, host.find(':'));
  return host == "localhost" || host == "[::1]" || host.starts_with("127.");
}

Decision Answering::decide(const Incoming& incoming, const std::string& request_id) const {
  auto target = parse_target(incoming.target());
  if (!target) {
    return api::problem_response(Problem(ProblemCode::bad_request, "The address is not one that can be read."));
  }
  if (!is_local_host(field(incoming, beast_http::field::host).value_or(""))) {
    return api::problem_response(
        Problem(ProblemCode::bad_request, "The Host header names another machine: use 127.0.0.1 or localhost."));
  }
  if (target->path.empty() || target->path.front() != "api") return page(files_, incoming, *target);
  Job job{api_request(incoming, std::move(*target), request_id), api::Runs::io};
  if (auto response = dispatcher_.answer_at_once(job.request, job.runs)) return std::move(*response);
  return job;
}

Outgoing outgoing(const api::Response& response, unsigned version, bool keep_alive, const std::string& request_id) {
  Outgoing message;
  message.version(version);
  message.result(static_cast<unsigned>(response.status));
  message.keep_alive(keep_alive);
  const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
  message.set(beast_http::field::date, date::format("%a, %d %b %Y %T GMT", now));
  message.set("X-Request-Id", request_id);
  message.set("X-Content-Type-Options", "nosniff");
  message.set("X-Frame-Options", "DENY");
  message.set("Referrer-Policy", "no-referrer");
  message.set("Cross-Origin-Opener-Policy", "same-origin");
  message.set("Cross-Origin-Resource-Policy", "same-origin");
  message.set("Content-Security-Policy", content_security_policy);
  for (const auto& [name, value] : response.headers) message.set(name, value);
  if (response.body) {
    message.set(beast_http::field::content_type, response.content_type);
    message.body() = {response.body->data(), response.body->size()};
    message.content_length(response.body->size());
  } else if (response.status != 204 && response.status != 304) {
    message.content_length(0);
  }
  return message;
}

}  // namespace cellarer::http
