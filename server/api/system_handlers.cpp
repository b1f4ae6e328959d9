// SPDX-License-Identifier: MIT
#include "server/api/handlers.hpp"
#include "server/api/openapi.hpp"

namespace cellarer::api {

Response get_health(const Context&, const Request&, const Parts&) { return json_response({{"alive", true}}); }

Response get_ready(const Context& context, const Request&, const Parts&) {
  if (!context.households.ready()) throw Problem(ProblemCode::store_unavailable, "The store does not answer.");
  context.households.require_clock();
  nlohmann::json document{{"ready", true}};
  const auto warnings = context.warnings == nullptr ? std::vector<std::string>() : context.warnings->all();
  if (!warnings.empty()) document["warnings"] = warnings;
  return json_response(document);
}

Response get_openapi(const Context&, const Request&, const Parts&) {
  static const Bytes document = std::make_shared<const std::string>(openapi_document().dump(1));
  static const std::string etag = entity_tag(*document);
  return bytes_response(document, etag);
}

}  // namespace cellarer::api
