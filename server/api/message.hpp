// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "server/access/principal.hpp"
#include "server/api/event_source.hpp"

/// A request and its answer as the API sees them: no sockets, no library of HTTP.
namespace cellarer::api {

struct Request {
  std::string method;                          ///< "GET", "POST", ...
  std::vector<std::string> path;               ///< decoded segments: {"api", "v1", "health"}
  std::map<std::string, std::string> query;    ///< decoded; of one name that comes twice, the last
  std::map<std::string, std::string> headers;  ///< names in lower case; only those of `heard_headers`
  std::string body;
  std::string id;                                             ///< of this request, as in the log
  std::string remote;                                         ///< address of whoever asks, through trusted proxies
  bool secure = false;                                        ///< by TLS, here or at the trusted proxy
  std::optional<access::Principal> principal = std::nullopt;  ///< who asks, where somebody is signed in
  bool rotation_due = false;                                  ///< the session's token is to be replaced
};

/// The request headers that mean something to the API.
inline constexpr const char* heard_headers[] = {"idempotency-key", "if-none-match", "cellarer-who",   "prefer",
                                                "cookie",          "origin",        "sec-fetch-site", "host",
                                                "content-type",    "last-event-id"};

using Bytes = std::shared_ptr<const std::string>;

struct Response;
/// What remains of a handler's work, on a thread that may compute: it returns the answer or throws as a handler does.
using Rest = std::function<Response()>;
/// Begins to write, and hands over the rest once the disk has told: once, from a thread that others wait for.
using Wait = std::function<void(std::function<void(Rest)>)>;

struct Response {
  int status = 200;
  std::string content_type = "application/json";
  std::vector<std::pair<std::string, std::string>> headers = {};
  Bytes body = nullptr;                           ///< none: no content
  std::shared_ptr<EventSource> events = nullptr;  ///< in place of a body: an answer without an end
  Wait after = nullptr;                           ///< in place of all else: the answer follows from a write under way

  void set(std::string name, std::string value) { headers.emplace_back(std::move(name), std::move(value)); }
};

/// The document written out. Never throws for what it says: bytes that are not UTF-8, which an older store may hold,
/// are shown as U+FFFD.
std::string bytes_of(const nlohmann::json& document);

Response json_response(const nlohmann::json& document, int status = 200);
Response bytes_response(Bytes body, const std::string& etag);

/// A strong entity tag of these bytes: FNV-1a, 64 bits. It need not withstand forgery, only tell versions of
/// one document apart.
std::string entity_tag(const std::string& bytes);

/// The header's value; none where it was not sent.
std::optional<std::string> header(const Request& request, const std::string& name);

/// Whether the client has this version already (If-None-Match, RFC 9110).
bool has_version(const Request& request, const std::string& etag);

}  // namespace cellarer::api
