// SPDX-License-Identifier: MIT
#include "server/api/finding_list.hpp"

#include <algorithm>

#include "server/json/field.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

using service::FindingNote;
using service::FindingState;

namespace {

std::string reason_words(const std::string& reason) {
  if (reason == "cause_removed") return ": what caused it was seen to";
  if (reason == "explained") return ": it is explained";
  if (reason == "nothing_found") return ": looked at, and nothing found";
  if (reason == "cannot_tell") return ": it could not be told what it was";
  return "";
}

std::string note_text(const FindingNote& note) {
  std::string text = "Seen";
  if (note.state == FindingState::open) text = "Set back to open";
  if (note.state == FindingState::taken_on) text = "Taken on";
  if (note.state == FindingState::closed) text = "Closed";
  if (!note.who.empty()) text += " by " + note.who;
  text += reason_words(note.reason) + ".";
  return note.note.empty() ? text : text + " " + note.note;
}

nlohmann::json notes_document(const std::vector<FindingNote>& notes) {
  auto all = nlohmann::json::array();
  for (const auto& note : notes) {
    all.push_back({{"state", service::finding_states[static_cast<int>(note.state)]},
                   {"at", cellarer::json::rfc3339(note.at, nullptr)},
                   {"who", json::text_or_null(note.who)},
                   {"reason", json::text_or_null(note.reason)},
                   {"note", json::text_or_null(note.note)},
                   {"text", note_text(note)}});
  }
  return all;
}

}  // namespace

nlohmann::json listed_document(const service::ListedFinding& finding) {
  nlohmann::json document = finding.document;
  document["state"] = service::finding_states[static_cast<int>(finding.state)];
  document["reopens"] = json::text_or_null(finding.reopens);
  document["homes"] = finding.homes;
  document["history"] = notes_document(finding.notes);
  document["newest"] = finding.newest();
  document["borne_out"] = finding.borne_out;
  if (!finding.reopens.empty()) document["evidence"].push_back("It was closed before; further sets bear it out again.");
  if (!finding.borne_out) document["evidence"].push_back("The records as they are now no longer bear it out.");
  return document;
}

nlohmann::json findings_of(const service::ReviewedAgency& agency, const std::string& household) {
  auto all = nlohmann::json::array();
  for (const auto& finding : agency.findings) {
    const bool touches = std::find(finding.homes.begin(), finding.homes.end(), household) != finding.homes.end();
    if (finding.household == household || touches) all.push_back(listed_document(finding));
  }
  return all;
}

}  // namespace cellarer::api
