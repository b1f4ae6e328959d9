// SPDX-License-Identifier: MIT
#include "server/http/answering.hpp"

#include <chrono>

#include <date/date.h>

#include "server/http/security_headers.hpp"
#include "server/http/target.hpp"

namespace cellarer::http {

namespace {

constexpr std::size_t room_for_header = 2048;

/// Written anew each second: the words of a date cost more than the rest of an answer that is kept.
const std::string& date_field() {
  thread_local std::chrono::sys_seconds written;
  thread_local std::string text;
  const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
  if (now != written || text.empty()) {
    text = date::format("%a, %d %b %Y %T GMT", now);
    written = now;
  }
  return text;
}

std::string field(const Incoming& incoming, std::string_view name) {
  const auto found = incoming.find(name);
  return found == incoming.end() ? std::string() : std::string(found->value());
}

/// One field that was sent in several lines.
std::string joined_field(const Incoming& incoming, std::string_view name) {
  std::string joined;
  const auto [first, last] = incoming.equal_range(name);
  for (auto one = first; one != last; ++one) joined.append(joined.empty() ? "" : ", ").append(one->value());
  return joined;
}

Way way_of(const Incoming& incoming) {
  return {field(incoming, "Host"), joined_field(incoming, "Forwarded"), joined_field(incoming, "X-Forwarded-For"),
          joined_field(incoming, "X-Forwarded-Proto")};
}

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

api::Response page(const StaticFiles& files, const Incoming& incoming, const Target& target) {
  const auto method = incoming.method();
  if (method == beast_http::verb::get || method == beast_http::verb::head) {
    const auto version = field(incoming, "If-None-Match");
    return files.get(target.path, field(incoming, "Accept-Encoding"),
                     version.empty() ? std::nullopt : std::optional(version));
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

Decision Answering::decide(const Incoming& incoming, const Peer& peer, const std::string& request_id,
                           api::Repeated& repeated) const {
  auto target = parse_target(incoming.target());
  if (!target) {
    return api::problem_response(Problem(ProblemCode::bad_request, "The address is not one that can be read."));
  }
  const Way way = way_of(incoming);
  const Visitor visitor = reception_.visitor(peer, way);
  if (const auto objection = reception_.objection(peer, visitor, way.host))
    return api::problem_response(Problem(ProblemCode::bad_request, *objection));
  if (target->path.empty() || target->path.front() != "api") return page(files_, incoming, *target);
  Job job{api_request(incoming, std::move(*target), request_id), api::Runs::io};
  job.request.remote = visitor.address;
  job.request.secure = visitor.secure;
  if (auto response = dispatcher_.answer_at_once(job.request, job.runs)) {
    repeated = dispatcher_.repeated(job.request, *response);
    return std::move(*response);
  }
  return job;
}

void Answering::shorten(api::Response& response, const Incoming& incoming) const {
  const auto method = incoming.method();
  if (method != beast_http::verb::get && method != beast_http::verb::head) return;
  compression_.apply(response, field(incoming, "Accept-Encoding"));
}

std::string Answering::opening(unsigned version, int status, const Ending& ending) {
  const auto reason = beast_http::obsolete_reason(beast_http::int_to_status(static_cast<unsigned>(status)));
  std::string text;
  text.reserve(room_for_header);
  text.append(version == 10 ? "HTTP/1.0 " : "HTTP/1.1 ").append(std::to_string(status)).append(" ").append(reason);
  text.append("\r\nDate: ").append(date_field());
  text.append("\r\nConnection: ").append(ending.keep_alive_s > 0 ? "keep-alive" : "close");
  if (ending.keep_alive_s > 0) text.append("\r\nKeep-Alive: timeout=").append(std::to_string(ending.keep_alive_s));
  text.append("\r\nX-Request-Id: ").append(ending.request_id).append("\r\n");
  return text;
}

std::string Answering::fields(const api::Response& response, const Incoming& incoming, const Peer& peer) const {
  std::string text;
  const auto add = [&text](std::string_view name, std::string_view value) {
    text.append(name).append(": ").append(value).append("\r\n");
  };
  for (const auto& [name, value] : security_headers) add(name, value);
  const auto host = field(incoming, "Host");
  if (reception_.is_public(host) && reception_.visitor(peer, way_of(incoming)).secure)
    add("Strict-Transport-Security", strict_transport_security);
  bool says_cache = false;
  for (const auto& [name, value] : response.headers) {
    says_cache = says_cache || name == "Cache-Control";
    add(name, value);
  }
  if (!says_cache) add("Cache-Control", "no-store");
  if (response.body || response.events) add("Content-Type", response.content_type);
  if (response.events && incoming.version() >= 11) add("Transfer-Encoding", "chunked");
  const bool has_length = response.status != 204 && response.status != 304 && !response.events;
  if (has_length) add("Content-Length", std::to_string(response.body ? response.body->size() : 0));
  return text + "\r\n";
}

}  // namespace cellarer::http
