// SPDX-License-Identifier: MIT
#include "server/service/bench_facts.hpp"

#include "server/service/facts.hpp"

namespace cellarer::service {

using json::Field;

CheckFact read_check(const Field& body) {
  CheckFact check;
  check.at = read_time(body["at"]);
  check.side = read_side(body["side"]);
  if (body["what"].word({"settings_read", "hours_noted"}) == 0)
    check.settings = read_settings_from(body, check.at);
  else
    check.hours_per_day = body["hours_per_day"].number(0, 24);
  return check;
}

PartFact read_part(const Field& body) {
  PartFact part;
  part.part = body["part"].text(60);
  if (const auto side = body.find("side")) part.side = read_side(*side);
  part.at = read_time(body["at"]);
  part.why = static_cast<PartFact::Why>(body["why"].word({"first", "worn_out", "other"}));
  return part;
}

FindingNote read_finding_note(const Field& body) {
  FindingNote note;
  note.finding = body["finding"].text(200);
  note.state = static_cast<FindingState>(body["state"].word({"open", "seen", "taken_on", "closed"}));
  if (const auto reason = body.find("reason"))
    note.reason = closing_reasons[reason->word({"cause_removed", "explained", "nothing_found", "cannot_tell"})];
  if (note.state == FindingState::closed && note.reason.empty())
    body["reason"].refuse("missing", "say why it is closed");
  if (const auto words = body.find("note")) note.note = words->text(200);
  if (const auto then = body.find("as_it_was")) note.as_it_was = then->value();
  return note;
}

}  // namespace cellarer::service
