// SPDX-License-Identifier: MIT
#include "server/api/message.hpp"

#include <cstdint>
#include <cstdio>

namespace cellarer::api {

std::string bytes_of(const nlohmann::json& document) {
  return document.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

Response json_response(const nlohmann::json& document, int status) {
  Response response;
  response.status = status;
  response.body = std::make_shared<const std::string>(bytes_of(document));
  return response;
}

Response bytes_response(Bytes body, const std::string& etag) {
  Response response;
  response.body = std::move(body);
  response.set("ETag", etag);
  return response;
}

std::string entity_tag(const std::string& bytes) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char byte : bytes) {
    hash ^= static_cast<unsigned char>(byte);
    hash *= 1099511628211ULL;
  }
  char text[24];
  std::snprintf(text, sizeof text, "\"%016llx\"", static_cast<unsigned long long>(hash));
  return text;
}

std::optional<std::string> header(const Request& request, const std::string& name) {
  const auto found = request.headers.find(name);
  if (found == request.headers.end()) return std::nullopt;
  return found->second;
}

bool has_version(const Request& request, const std::string& etag) {
  const auto sent = header(request, "if-none-match");
  if (!sent) return false;
  return *sent == "*" || sent->find(etag) != std::string::npos;
}

}  // namespace cellarer::api
