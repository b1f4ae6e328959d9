// SPDX-License-Identifier: MIT
#include "server/api/entry_document.hpp"

#include <cstdio>

#include "server/api/desk_sentences.hpp"
#include "server/api/plan_document.hpp"
#include "server/json/field.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/fold.hpp"
#include "server/service/plan_facts.hpp"

namespace cellarer::api {

namespace kind = service::kind;

namespace {

std::string number(const nlohmann::json& value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value.get<double>());
  return text;
}

std::string side_name(const nlohmann::json& body) { return body.value("side", "") == "left" ? "left" : "right"; }
std::string side_start(const nlohmann::json& body) { return side_name(body) == "left" ? "Left: " : "Right: "; }

std::string reading_text(const nlohmann::json& body) {
  if (body.contains("percent")) return side_start(body) + "the gauge showed " + number(body["percent"]) + " %.";
  if (body.contains("step")) {
    return side_start(body) + "the gauge showed step " + number(body["step"]) + " of " + number(body["of"]) + ".";
  }
  if (body.contains("set_V")) return side_start(body) + number(body["set_V"]) + " V across the cells.";
  if (body.contains("warning")) return "The unit warned: " + side_name(body) + " side.";
  if (body.contains("stopped")) return "The " + side_name(body) + " side stopped.";
  std::string volts;
  for (const nlohmann::json& cell : body["cell_V"]) volts += (volts.empty() ? "" : ", ") + number(cell) + " V";
  return side_start(body) + volts + " across each cell.";
}

std::string reason_text(const std::string& reason) {
  if (reason == "planned") return ", as planned";
  if (reason == "warning") return " after a warning";
  if (reason == "ran_out") return " after they ran out";
  if (reason == "fault") return " because of a fault";
  return "";
}

std::string change_text(const nlohmann::json& body) {
  std::string text = "The " + side_name(body) + " cells were changed" + reason_text(body.value("reason", ""));
  const nlohmann::json cells = body.value("cells", nlohmann::json::object());
  if (cells.contains("lot") && cells["lot"].is_string()) text += ", lot " + cells["lot"].get<std::string>();
  return text + ".";
}

std::string stock_text(const nlohmann::json& body, const char* what) {
  std::string text = what + number(body["quantity"]) + " " + body["item"].get<std::string>();
  if (body.contains("lot") && body["lot"].is_string()) text += ", lot " + body["lot"].get<std::string>();
  if (body.contains("place") && body["place"].is_string()) text += ", " + body["place"].get<std::string>();
  return text + ".";
}

std::string settings_text(const nlohmann::json& body) {
  return side_start(body) + "settings of " + number(body["rate_per_min"]) + " breaths a minute, amplitude " +
         number(body["amplitude"]) + (body.contains("growth") ? ", with spans that grow." : ".");
}

std::string unit_text(const nlohmann::json& body) {
  const std::string serial = body["serial"].get<std::string>();
  return body.value("spare", false) ? "Unit " + serial + " is kept as a spare." : "Unit " + serial + " is in use.";
}

/// "Left and right: "
std::string sides_start(const nlohmann::json& body) {
  std::string text;
  for (const nlohmann::json& side : body.value("sides", nlohmann::json::array()))
    text += (text.empty() ? "" : " and ") + side.get<std::string>();
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text + ": ";
}

std::string paced_more_text(const nlohmann::json& body) {
  const auto more = service::read_paced_more(cellarer::json::Field(body, ""));
  return sides_start(body) + "paced " + paced_more_words(more) + (more.why ? ", " + *more.why : "") + ".";
}

std::string found_text(const nlohmann::json& cells, const char* side) {
  const std::string are = cells.value(side, nlohmann::json::object()).value("are", "dont_know");
  if (are == "as_before") return std::string(side) + " as before";
  return std::string(side) + (are == "fresh" ? " fresh" : " not known");
}

std::string back_home_text(const nlohmann::json& body) {
  const nlohmann::json cells = body.value("cells", nlohmann::json::object());
  return "Back home from hospital: cells " + found_text(cells, "left") + ", " + found_text(cells, "right") + ".";
}

std::string check_text(const nlohmann::json& body) {
  if (body.value("what", "") == "hours_noted")
    return side_start(body) + "noted " + number(body["hours_per_day"]) + " hours paced a day.";
  return side_start(body) + "settings read off the unit: " + number(body["rate_per_min"]) +
         " breaths a minute, amplitude " + number(body["amplitude"]) + ".";
}

std::string part_text(const nlohmann::json& body) {
  const auto part = body["part"].get<std::string>() + (body.contains("side") ? ", " + side_name(body) : "");
  const auto why = body.value("why", "");
  if (why == "worn_out") return "Worn out and replaced: " + part + ".";
  return (why == "first" ? "Into use: " : "Replaced: ") + part + ".";
}

std::string answer_text(const nlohmann::json& body) {
  if (body.value("answer", "") == "still") return "Entry " + number(body["entry"]) + " goes on.";
  const bool same = body.value("answer", "") == "same";
  const std::string entry = number(body["entry"]);
  return same ? "Entry " + entry + " was the same change as the one before."
              : "Entry " + entry + " was another change.";
}

/// Of a body without nulls.
std::string told_text(const std::string& what, const nlohmann::json& body) {
  if (service::desk::is_of_the_desk(what)) return desk_entry_text(what, body);
  if (what == kind::reading) return reading_text(body);
  if (what == kind::cell_change) return change_text(body);
  if (what == kind::settings) return settings_text(body);
  if (what == kind::unit) return unit_text(body);
  if (what == kind::paced) return side_start(body) + "paced " + number(body["hours_per_day"]) + " hours a day.";
  if (what == kind::switched_off) return "The " + side_name(body) + " side was switched off.";
  if (what == kind::stock_count) return stock_text(body, "Counted: ");
  if (what == kind::delivery) return stock_text(body, "Received: ");
  if (what == kind::discard) return stock_text(body, "Thrown away: ");
  if (what == kind::use) return stock_text(body, "Used: ");
  if (what == kind::stay) return "A stay away from home.";
  if (what == kind::paced_more) return paced_more_text(body);
  if (what == kind::visit) return sides_start(body) + "a visit that wants fresh cells.";
  if (what == kind::hospital) return "In hospital.";
  if (what == kind::reminders) return "Reminders were set.";
  if (what == kind::back_home) return back_home_text(body);
  if (what == kind::end) return "Entry " + number(body["entry"]) + " has ended.";
  if (what == kind::item_terms) return "How " + body["item"].get<std::string>() + " are ordered and used up.";
  if (what == kind::recall_call)
    return "The home was told that lot " + body["lot"].get<std::string>() + " is recalled.";
  if (what == kind::undo) return "Entry " + number(body["entry"]) + " was taken back.";
  if (what == kind::check) return check_text(body);
  if (what == kind::part) return part_text(body);
  if (what == kind::finding_note) return "The technician noted something about a finding.";
  return answer_text(body);
}

}  // namespace

std::string entry_text(const std::string& what, const nlohmann::json& body) {
  return told_text(what, cellarer::json::without_nulls(body));
}

nlohmann::json entry_document(const service::Entry& entry, Zone zone) {
  nlohmann::json body = nlohmann::json::parse(entry.body);
  nlohmann::json document{{"id", entry.number},
                          {"kind", entry.kind},
                          {"at", cellarer::json::rfc3339(entry.at, zone)},
                          {"recorded_at", cellarer::json::rfc3339(entry.recorded_at, zone)},
                          {"who", nullptr},
                          {"voided_by", nullptr},
                          {"text", entry_text(entry.kind, body)}};
  if (!entry.who.empty()) document["who"] = entry.who;
  if (entry.voided_by) document["voided_by"] = *entry.voided_by;
  document["body"] = std::move(body);
  return document;
}

}  // namespace cellarer::api
