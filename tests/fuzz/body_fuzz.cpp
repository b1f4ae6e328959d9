// SPDX-License-Identifier: MIT
// The body of a write: JSON, then the fact that the route expects. The first letter chooses the fact.
#include "server/error.hpp"
#include "server/service/bench_facts.hpp"
#include "server/service/facts.hpp"
#include "server/service/plan_facts.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

using Read = void (*)(const json::Field& body, Instant now);

const Read facts[] = {
    [](const json::Field& body, Instant) { service::read_household_fact(body); },
    [](const json::Field& body, Instant) { service::read_unit(body); },
    [](const json::Field& body, Instant) { service::read_settings(body); },
    [](const json::Field& body, Instant now) { service::read_cell_change(body, now); },
    [](const json::Field& body, Instant now) { service::read_reading(body, now); },
    [](const json::Field& body, Instant) { service::read_paced_instead(body); },
    [](const json::Field& body, Instant) { service::read_switched_off(body); },
    [](const json::Field& body, Instant) { service::read_stock_event(body, stock::Happened::counted); },
    [](const json::Field& body, Instant) { service::read_stock_line(body, 0); },
    [](const json::Field& body, Instant) { service::read_stay(body); },
    [](const json::Field& body, Instant) { service::read_paced_more(body); },
    [](const json::Field& body, Instant) { service::read_visit(body); },
    [](const json::Field& body, Instant) { service::read_hospital(body); },
    [](const json::Field& body, Instant) { service::read_back_home(body); },
    [](const json::Field& body, Instant) { service::read_check(body); },
    [](const json::Field& body, Instant) { service::read_part(body); },
    [](const json::Field& body, Instant) { service::read_finding_note(body); }};

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  const auto read = facts[fuzz::choose(text, std::size(facts))];
  const Instant now{std::chrono::seconds(1'772'000'000)};  // February 2026
  try {
    const auto document = json::parse(text);
    // What was taken can be written again, and then reads the same: it will be stored.
    fuzz::must(json::parse(document.dump()) == document);
    read(json::Field(document, ""), now);
  } catch (const json::Refused& refused) {
    fuzz::must(!refused.reason().empty());
  } catch (const Problem& problem) {
    fuzz::must(kind_of(problem.code()).status < 500);
  }
  return 0;
}
