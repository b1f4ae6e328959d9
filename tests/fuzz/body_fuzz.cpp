// SPDX-License-Identifier: MIT
// The body of a write: JSON, then what the route expects. The first letter chooses it. Proposals have a target of their
// own, and so have passkeys and tables.
#include "server/api/access_bodies.hpp"
#include "server/api/desk_bodies.hpp"
#include "server/api/entry_document.hpp"
#include "server/error.hpp"
#include "server/service/agency_help.hpp"
#include "server/service/agency_record.hpp"
#include "server/service/bench_facts.hpp"
#include "server/service/bench_journal.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/facts.hpp"
#include "server/service/fold.hpp"
#include "server/service/lot_facts.hpp"
#include "server/service/plan_facts.hpp"
#include "server/service/profile_journal.hpp"
#include "server/service/reminder_settings.hpp"
#include "server/service/round_calendar.hpp"
#include "server/service/what_if.hpp"
#include "tests/fuzz/fuzz.hpp"
#include "tests/support/fake_libraries.hpp"

using namespace cellarer;

namespace {

namespace kind = service::kind;

const Instant now{std::chrono::seconds(1'772'000'000)};  // February 2026
const std::chrono::year_month_day today{std::chrono::year{2026}, std::chrono::month{2}, std::chrono::day{25}};

/// What was taken stands in the agency's journal, and is read with it for ever after.
void stays_readable(const char* what, const nlohmann::json& body) {
  const std::vector<store::StoredAgencyEntry> entries{{1, what, "cells", now, "planner", body.dump()}};
  try {
    service::agency_record(entries, service::lot_facts(entries));
    service::read_bench_journal(entries);
  } catch (const json::Refused&) {
    fuzz::must(false);
  }
}

void read_stock(const json::Field& body) {
  service::check_agency_stock(body);
  stays_readable(service::desk::agency_stock, body.value());
}

void read_event(const json::Field& body) {
  service::read_unit_event(body);
  stays_readable(service::agency_kind::unit_event, body.value());
}

void read_rounds(const json::Field& body) {
  const auto calendar = service::read_new_calendar(body, today);
  stays_readable(service::desk::round_calendar, service::calendar_document(calendar));
}

void read_push(const json::Field& body) {
  const auto wish = api::read_push_wish(body, "");
  fuzz::must(wish.keys.public_key.size() == 65 && wish.keys.auth_secret.size() == 16);
}

void read_guest(const json::Field& body) {
  const auto terms = api::read_guest_terms(body);
  if (terms.hours)
    fuzz::must(terms.hours->from_min >= 0 && terms.hours->from_min < 24 * 60 && terms.hours->to_min >= 0);
}

void read_typed(const json::Field& body) {
  static const testing::FakeLibraries libraries;
  const auto typed = service::read_typed_in(body, libraries, now);
  fuzz::must(typed.settings.size() <= 2);
}

struct Body {
  void (*read)(const json::Field& body);
  const char* kind = nullptr;  ///< of the entry that it is stored as; none: of no household
};

const Body bodies[] = {
    {[](const json::Field& body) { service::read_household_fact(body); }},
    {[](const json::Field& body) { service::read_unit(body); }, kind::unit},
    {[](const json::Field& body) { service::read_settings(body); }, kind::settings},
    {[](const json::Field& body) { service::read_cell_change(body, now); }, kind::cell_change},
    {[](const json::Field& body) { service::read_reading(body, now); }, kind::reading},
    {[](const json::Field& body) { service::read_paced_instead(body); }, kind::paced},
    {[](const json::Field& body) { service::read_switched_off(body); }, kind::switched_off},
    {[](const json::Field& body) { service::read_stock_event(body, stock::Happened::counted); }, kind::stock_count},
    {[](const json::Field& body) { service::read_stock_line(body, 0); }},
    {[](const json::Field& body) { service::read_stay(body); }, kind::stay},
    {[](const json::Field& body) { service::read_paced_more(body); }, kind::paced_more},
    {[](const json::Field& body) { service::read_visit(body); }, kind::visit},
    {[](const json::Field& body) { service::read_hospital(body); }, kind::hospital},
    {[](const json::Field& body) { service::read_back_home(body); }, kind::back_home},
    {[](const json::Field& body) { service::read_check(body); }, kind::check},
    {[](const json::Field& body) { service::read_part(body); }, kind::part},
    {[](const json::Field& body) { service::read_finding_note(body); }, kind::finding_note},
    {[](const json::Field& body) { service::read_recall_call(body, {}, ""); }, kind::recall_call},
    {[](const json::Field& body) { service::read_reminder_settings(body); }, kind::reminders},
    {read_event},
    {[](const json::Field& body) { service::read_help(body); }},
    {read_rounds},
    {read_stock},
    {[](const json::Field& body) { service::read_round_state(body["state"]); }},
    {[](const json::Field& body) { service::read_recall(body); }},
    {[](const json::Field& body) { service::read_lot_correction(body); }},
    {[](const json::Field& body) { service::read_decision(body); }},
    {[](const json::Field& body) { api::check_stop_place(body); }, service::desk::stop_place},
    {[](const json::Field& body) { api::check_message(body); }, service::desk::message},
    {[](const json::Field& body) { api::read_stop_change(body); }},
    {[](const json::Field& body) { api::read_confirmed_rounds(body); }},
    {[](const json::Field& body) { api::read_delivered(body["lines"]); }},
    {[](const json::Field& body) { api::read_role(body["role"]); }},
    {read_guest},
    {[](const json::Field& body) { api::read_acceptance(body); }},
    {read_push},
    {read_typed}};

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  const auto& body = bodies[fuzz::choose(text, std::size(bodies))];
  try {
    const auto document = json::parse(text);
    // What was taken can be written again, and then reads the same: it will be stored.
    fuzz::must(json::parse(document.dump()) == document);
    body.read(json::Field(document, ""));
    // And it can be told for ever after: what is thrown here would close the home's list.
    if (body.kind != nullptr) fuzz::must(!api::entry_text(body.kind, document).empty());
  } catch (const json::Refused& refused) {
    fuzz::must(!refused.reason().empty());
  } catch (const Problem& problem) {
    fuzz::must(kind_of(problem.code()).status < 500);
  }
  return 0;
}
