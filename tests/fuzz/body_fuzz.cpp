// SPDX-License-Identifier: MIT
// The body of a write: JSON, then what the route expects. The first letter chooses it.
#include "server/api/entry_document.hpp"
#include "server/error.hpp"
#include "server/service/agency_help.hpp"
#include "server/service/agency_record.hpp"
#include "server/service/bench_facts.hpp"
#include "server/service/bench_journal.hpp"
#include "server/service/facts.hpp"
#include "server/service/fold.hpp"
#include "server/service/plan_facts.hpp"
#include "server/service/reminder_settings.hpp"
#include "server/service/round_calendar.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

namespace kind = service::kind;

const Instant now{std::chrono::seconds(1'772'000'000)};  // February 2026
const std::chrono::year_month_day today{std::chrono::year{2026}, std::chrono::month{2}, std::chrono::day{25}};

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
    {[](const json::Field& body) { service::read_unit_event(body); }},
    {[](const json::Field& body) { service::read_help(body); }},
    {[](const json::Field& body) { service::read_new_calendar(body, today); }},
    {[](const json::Field& body) { service::check_agency_stock(body); }},
    {[](const json::Field& body) { service::read_round_state(body["state"]); }}};

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
