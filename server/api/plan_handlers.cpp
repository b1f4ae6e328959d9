// SPDX-License-Identifier: MIT
// The writes about plans, and the one question that stores nothing.
#include "server/api/fact_handler.hpp"
#include "server/api/gate.hpp"
#include "server/api/handlers.hpp"
#include "server/api/record_answer.hpp"
#include "server/api/write_door.hpp"
#include "server/service/plan_facts.hpp"
#include "server/service/what_if.hpp"

namespace cellarer::api {

namespace kind = service::kind;
using json::Field;

Response post_paced_more(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::paced_more,
                     [](const Context&, const Field& body) { return service::read_paced_more(body).from; });
}

Response post_visit(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(
      context, request, parts, kind::visit,
      [](const Context&, const Field& body) { return service::read_visit(body).at; }, Future::expected);
}

Response post_stay(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(
      context, request, parts, kind::stay,
      [](const Context&, const Field& body) {
        const auto stay = service::read_stay(body);
        if (stay.zone) service::read_zone(body["zone"]);
        return stay.from;
      },
      Future::expected);
}

Response post_hospital(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::hospital, [](const Context&, const Field& body) {
    if (const auto to = body.find("to")) to->refuse("out-of-range", "is said by coming back home: leave it out");
    return service::read_hospital(body).stay.from;
  });
}

Response post_back_home(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::back_home,
                     [](const Context&, const Field& body) { return service::read_back_home(body).at; });
}

Response post_end(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  const auto entry = named_entry(body);
  require(request, needed_to_record(context.households.kind_of_entry(incoming.household, entry)));
  const Instant at = service::read_time(body["at"]);
  ask_about_future(body, at, context.households.clock().now());
  return answer_to(context, request, incoming.household, context.households.end(incoming.write(kind::end, at), entry));
}

Response post_what_if(const Context& context, const Request& request, const Parts& parts) {
  context.households.require_clock();
  const auto snapshot = context.households.snapshot(parts.at("household"));
  const auto document = json::parse(request.body);
  const Field body(document, "");
  if (!document.is_object()) body.refuse("wrong-type", "expected an object");
  const auto agency_libraries = context.households.profiles().libraries_of(request.principal->agency);
  const auto& libraries = *agency_libraries;
  const Instant as_of = context.households.clock().now();
  const auto typed = service::read_typed_in(body, libraries, as_of);
  Response response;
  response.body = std::make_shared<const std::string>(context.forecaster.side_by_side(
      snapshot->record, service::with_typed_in(snapshot->record, typed, libraries, as_of), as_of));
  response.set("Cache-Control", "no-store");
  return response;
}

}  // namespace cellarer::api
