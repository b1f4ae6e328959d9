// SPDX-License-Identifier: MIT
#include "server/service/bench_journal.hpp"

#include <algorithm>
#include <set>

#include "server/service/facts.hpp"
#include "server/service/profile_journal.hpp"

namespace cellarer::service {

using json::Field;
using store::StoredAgencyEntry;

namespace {

bool is_of_bench(const std::string& kind) {
  return kind == agency_kind::unit_event || kind == agency_kind::finding_note ||
         kind == agency_kind::profile_proposal || kind == agency_kind::profile_decision;
}

void take_back(std::vector<UnitEvent>& events) {
  std::set<std::int64_t> gone;
  for (const auto& event : events) {
    if (event.what == UnitEvent::What::taken_back) gone.insert({event.voids, event.number});
  }
  std::erase_if(events, [&](const UnitEvent& event) { return gone.count(event.number) > 0; });
}

/// Currents and gauge of one unit, from what was proposed as its profile; a proposal that was refused says nothing.
void add_values(BenchJournal& journal, const Proposal& proposal) {
  if (proposal.kind != Proposal::Kind::unit || proposal.state == Proposal::State::refused) return;
  const Field body(proposal.body, "");
  const auto measured = [&] {
    return Measured{proposal.number, proposal.subject, proposal.body.at("document").value("id", ""),
                    read_time(body["at"]), proposal.account};
  };
  if (const auto bursts = body.find("bursts")) {
    for (const Field& one : bursts->elements(200))
      journal.values.push_back(
          {measured(), read_side(one["side"]), one["amplitude"].number(0, 1e6), one["current_mA"].number(0, 1e6)});
  }
  if (const auto gauge = body.find("gauge")) {
    for (const Field& one : gauge->elements(200))
      journal.gauges.push_back({measured(), one["set_V"].number(-1e6, 1e6), one["percent"].number(-1e6, 1e6)});
  }
}

template <class Value>
void by_when_measured(std::vector<Value>& values) {
  std::stable_sort(values.begin(), values.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
}

}  // namespace

UnitEvent read_unit_event(const Field& body) {
  UnitEvent event;
  event.what = static_cast<UnitEvent::What>(body["what"].word({"workshop", "fault", "repaired", "withdrawn", "void"}));
  if (event.what == UnitEvent::What::taken_back) {
    event.voids = body["voids"].integer(1, 2'000'000'000);
    return event;
  }
  event.at = read_time(body["at"]);
  if (const auto note = body.find("note")) event.note = note->text(200);
  return event;
}

BenchJournal read_bench_journal(const std::vector<StoredAgencyEntry>& entries) {
  BenchJournal journal;
  for (const auto& entry : entries) {
    const bool event = entry.kind == agency_kind::unit_event, note = entry.kind == agency_kind::finding_note;
    if (!event && !note) continue;
    const auto document = json::parse(entry.body);
    const Field body(document, "");
    if (event) {
      journal.unit_events.push_back(read_unit_event(body));
      auto& read = journal.unit_events.back();
      read.number = entry.number;
      read.serial = entry.subject;
      read.account = entry.account;
    } else {
      journal.notes.push_back(read_finding_note(body));
      auto& read = journal.notes.back();
      read.number = entry.number;
      read.at = entry.recorded_at;
      read.who = document.value("who", "");
    }
  }
  for (const auto& proposal : read_proposals(entries)) add_values(journal, proposal);
  by_when_measured(journal.values);
  by_when_measured(journal.gauges);
  take_back(journal.unit_events);
  std::stable_sort(journal.unit_events.begin(), journal.unit_events.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  return journal;
}

bool was_measured(const BenchJournal& journal, const std::string& serial) {
  const auto of_it = [&](const Measured& one) { return one.serial == serial; };
  return std::any_of(journal.values.begin(), journal.values.end(), of_it) ||
         std::any_of(journal.gauges.begin(), journal.gauges.end(), of_it);
}

std::int64_t newest_of_bench(const std::vector<StoredAgencyEntry>& entries) {
  for (auto entry = entries.rbegin(); entry != entries.rend(); ++entry) {
    if (is_of_bench(entry->kind)) return entry->number;
  }
  return 0;
}

}  // namespace cellarer::service
