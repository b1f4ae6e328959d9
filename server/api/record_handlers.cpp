// SPDX-License-Identifier: MIT
// The writes: each checks one fact at the door, stores it, and answers it with what follows from it.
#include "server/api/desk_documents.hpp"
#include "server/api/fact_handler.hpp"
#include "server/api/gate.hpp"
#include "server/api/handlers.hpp"
#include "server/api/record_answer.hpp"
#include "server/api/write_door.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/facts.hpp"
#include "server/service/planner_desk.hpp"

namespace cellarer::api {

namespace kind = service::kind;
using json::Field;

namespace {

/// The model of unit that the body names; none where it is no body that will be taken.
std::string named_stimulator(const Request& request) {
  try {
    const auto sent = json::parse(request.body);
    const auto named = Field(sent, "").find("stimulator");
    return named && named->value().is_string() ? named->value().get<std::string>() : "";
  } catch (const json::Refused&) {
    return "";  // the door says why
  }
}

/// A unit without a profile has no currents: the names that are known are said.
Instant check_unit(const Context& context, const Field& body) {
  const auto unit = service::read_unit(body);
  const auto& libraries = context.households.libraries();
  if (!libraries.stimulator(unit.stimulator)) {
    std::string known;
    for (const auto& id : libraries.stimulator_ids()) known += (known.empty() ? "" : ", ") + id;
    body["stimulator"].refuse("out-of-range", "is no stimulator profile: expected one of " + known);
  }
  return unit.from;
}

template <stock::Happened what>
Instant check_stock(const Context&, const Field& body) {
  return service::read_stock_event(body, what).at;
}

/// A confirmed stop is of its round too, whose picking list would keep what the household no longer gets; and what came
/// back or is lost is in the agency's books too.
void refuse_part_of_round(const std::string& kind, std::int64_t entry) {
  const bool settled = kind == service::desk::delivery_settled;
  if (!settled && kind != service::desk::planned_delivery && kind != service::desk::delivery_withdrawn) return;
  Problem problem(ProblemCode::cannot_be_voided,
                  settled ? "The agency's store stands on it: say anew, on the round, where the packs are."
                          : "Leave the stop out in the plan and confirm the round again.");
  problem.more["entry"] = entry;
  throw problem;
}

}  // namespace

/// As the routes say of what is recorded anew (routes.cpp).
access::Permission needed_to_record(const std::string& what) {
  using access::Permission;
  if (what == kind::unit || what == kind::settings) return Permission::record_setup;
  if (what == kind::reading) return Permission::record_readings;
  if (service::desk::is_the_planners(what)) return Permission::plan_rounds;
  const bool stock = what == kind::stock_count || what == kind::delivery || what == service::desk::delivery_answer;
  if (stock) return Permission::record_stock;
  if (what == kind::check || what == kind::finding_note) return Permission::review;
  if (what == kind::part) return Permission::record_setup;
  if (what == kind::item_terms) return Permission::import_tables;
  if (what == kind::recall_call) return Permission::manage_lots;
  const bool plan = what == kind::stay || what == kind::paced_more || what == kind::visit || what == kind::hospital ||
                    what == kind::back_home || what == kind::reminders;
  return plan ? Permission::record_plans : Permission::record_use;
}

Response record_fact(const Context& context, const Request& request, const Parts& parts, const char* what, Check check,
                     Future future) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  const Instant at = check(context, body);
  if (future == Future::asked_about) ask_about_future(body, at, context.households.clock().now());
  Response response;
  response.after = [&context, &request, write = incoming.write(what, at)](const std::function<void(Rest)>& go_on) {
    context.households.record_then(
        write, [&context, &request, household = write.household, go_on](std::function<service::Recorded()> recorded) {
          go_on([&context, &request, household, recorded = std::move(recorded)] {
            return answer_to(context, request, household, recorded());
          });
        });
  };
  return response;
}

std::int64_t named_entry(const Field& body) {
  return static_cast<std::int64_t>(body["entry"].integer(1, 2'000'000'000));
}

Response post_unit(const Context& context, const Request& request, const Parts& parts) {
  // Models of unit that the agency approved are known, too.
  const auto approved = context.households.profiles().of(request.principal->agency);
  const auto named = named_stimulator(request);
  const bool of_agency =
      !named.empty() && approved->in_force(service::Proposal::Kind::stimulator, named, Instant::max()) != nullptr;
  if (of_agency)
    return record_fact(context, request, parts, kind::unit,
                       [](const Context&, const Field& body) { return service::read_unit(body).from; });
  return record_fact(context, request, parts, kind::unit, check_unit);
}

Response post_settings(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::settings,
                     [](const Context&, const Field& body) { return service::read_settings(body).from; });
}

Response post_cell_change(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::cell_change,
                     [](const Context&, const Field& body) { return service::read_cell_change(body, {}).change.at; });
}

Response post_reading(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::reading,
                     [](const Context&, const Field& body) { return service::read_reading(body, {}).at; });
}

Response post_paced(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::paced,
                     [](const Context&, const Field& body) { return service::read_paced_instead(body).from; });
}

Response post_switched_off(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::switched_off,
                     [](const Context&, const Field& body) { return service::read_switched_off(body).from; });
}

Response post_stock_count(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::stock_count, check_stock<stock::Happened::counted>);
}

Response post_delivery(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::delivery, check_stock<stock::Happened::received>);
}

Response post_discard(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::discard, check_stock<stock::Happened::discarded>);
}

Response post_use(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, kind::use, check_stock<stock::Happened::used>);
}

Response post_void(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  const auto entry = named_entry(body);
  if (const auto why = body.find("why")) why->text(500);
  const auto kind_of_it = context.households.kind_of_entry(incoming.household, entry);
  require(request, needed_to_record(kind_of_it));
  refuse_part_of_round(kind_of_it, entry);
  const auto now = context.households.clock().now();
  if (context.desk != nullptr) context.desk->unsettle(doing(request, incoming.key), incoming.household, entry);
  const auto with_it =
      context.desk != nullptr ? context.desk->booked_with(incoming.household, entry) : std::vector<std::int64_t>{};
  return answer_to(context, request, incoming.household,
                   context.households.undo(incoming.write(kind::undo, now), entry, with_it));
}

Response post_answer(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  const auto entry = named_entry(body);
  const bool still = body["answer"].word({"same", "different", "still"}) == 2;
  if (still) require(request, access::Permission::record_plans);  // it lengthens a plan, as an end shortens it
  const auto now = context.households.clock().now();
  return answer_to(context, request, incoming.household,
                   context.households.answer(incoming.write(kind::answer, now), entry, still));
}

}  // namespace cellarer::api
