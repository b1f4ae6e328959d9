// SPDX-License-Identifier: MIT
// A round once it is confirmed: its picking list and delivery sheet, and how it stands.
#include "server/api/desk_documents.hpp"
#include "server/api/desk_routes.hpp"
#include "server/api/write_door.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

nlohmann::json require_round(const Context& context, const Request& request, const std::string& round) {
  const auto& agency = request.principal->agency;
  auto document = round_document(desk_of(context), agency, *context.households.lots_of_agency(agency), round,
                                 context.households.clock().now());
  if (document.is_null()) {
    throw Problem(ProblemCode::unknown_round,
                  "There is no round " + round + ": GET /api/v1/calendar names those to come.");
  }
  return document;
}

}  // namespace

Response get_round(const Context& context, const Request& request, const Parts& parts) {
  return json_response(require_round(context, request, parts.at("round")));
}

Response post_round_state(const Context& context, const Request& request, const Parts& parts) {
  const auto key = require_key(request);
  const auto document = object_of(request);
  const Field body(document, "");
  const auto state = service::read_round_state(body["state"]);
  const auto follows = body["follows"].integer(0, 2'000'000'000);
  const std::string& round = parts.at("round");
  desk_of(context).set_round_state(doing(request, key), round, state, follows);
  return json_response(require_round(context, request, round), 201);
}

}  // namespace cellarer::api
