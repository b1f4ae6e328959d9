// SPDX-License-Identifier: MIT
// What the technician records: looks at one cause, worn parts, units in the workshop, what became of a finding.
#include "server/api/fact_handler.hpp"
#include "server/api/finding_list.hpp"
#include "server/api/handlers.hpp"
#include "server/api/write_door.hpp"
#include "server/service/review_book.hpp"

namespace cellarer::api {

namespace kind = service::kind;
using json::Field;

namespace {

/// One that was taken back already may be so again: whoever says it twice is answered alike.
void require_event(const Context& context, const std::string& agency, const std::string& serial, std::int64_t number) {
  const auto journal = context.households.journal().of(agency);  // held: others write meanwhile
  for (const auto& entry : *journal) {
    const bool is_it = entry.number == number && entry.kind == service::agency_kind::unit_event;
    if (is_it && entry.subject == serial) return;
  }
  throw Problem(ProblemCode::unknown_entry, "Event " + std::to_string(number) + " is none of unit " + serial + "'s.");
}

}  // namespace

Response post_check(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::check, [](const Context&, const Field& body) {
    const auto check = service::read_check(body);
    // Kept entries may hold it; it tells nothing, so nobody is to believe that it was taken in.
    if (check.hours_per_day == 0.0)
      body["hours_per_day"].refuse("out-of-range", "is 0: give the hours paced a day, more than 0 and up to 24");
    return check.at;
  });
}

Response post_part(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::part,
                     [](const Context&, const Field& body) { return service::read_part(body).at; });
}

Response post_finding_state(const Context& context, const Request& request, const Parts&) {
  service::NoteWish wish;
  wish.key = require_key(request);
  const auto document = json::parse(request.body);
  const Field body(document, "");
  if (!document.is_object()) body.refuse("wrong-type", "expected an object");
  wish.agency = request.principal->agency;
  wish.account = request.principal->account;
  wish.note = service::read_finding_note(body);
  wish.note.who = request.principal->label;
  wish.note.as_it_was = nullptr;  // the service's own, never what was sent
  wish.follows = body["follows"].integer(0, 2'000'000'000);
  return json_response(listed_document(context.review->note(wish)), 201);
}

Response post_unit_event(const Context& context, const Request& request, const Parts& parts) {
  const auto key = require_key(request);
  const auto& serial = parts.at("serial");
  if (serial.empty()) throw Problem(ProblemCode::unknown_unit, "A unit is named by its serial number.");
  if (serial.size() > 60) throw Problem(ProblemCode::unknown_unit, "A serial number has at most 60 characters.");
  const auto document = json::parse(request.body);
  const Field body(document, "");
  if (!document.is_object()) body.refuse("wrong-type", "expected an object");
  const auto event = service::read_unit_event(body);
  if (event.what != service::UnitEvent::What::taken_back)
    ask_about_future(body, event.at, context.households.clock().now());
  else
    require_event(context, request.principal->agency, serial, event.voids);
  const auto recorded =
      context.households.journal().record({request.principal->agency, service::agency_kind::unit_event, serial,
                                           document.dump(), key, request.principal->account});
  auto response = json_response({{"number", recorded.entry.number},
                                 {"kind", recorded.entry.kind},
                                 {"recorded_at", json::rfc3339(recorded.entry.recorded_at, nullptr)}},
                                201);
  if (recorded.repeated) response.set("Idempotency-Replayed", "true");
  return response;
}

}  // namespace cellarer::api
