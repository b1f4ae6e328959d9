// SPDX-License-Identifier: MIT
#include "server/service/plan_facts.hpp"

namespace cellarer::service {

using json::Field;

namespace {

constexpr std::size_t longest_note = 60;
/// Below this, hours a day are a slip of the finger: five minutes.
constexpr double least_hours = 1.0 / 12;

std::optional<std::string> read_note(const Field& body, const char* name) {
  const auto note = body.find(name);
  if (!note) return std::nullopt;
  return note->text(longest_note);
}

FoundInSide read_found(const Field& side, Instant home_at) {
  FoundInSide found;
  found.are = static_cast<FoundCells>(side["are"].word({"as_before", "fresh", "dont_know"}));
  found.changed_at = home_at;
  if (found.are != FoundCells::fresh) return found;
  if (const auto profile = side.find("profile")) found.cells.profile = profile->text(80);
  if (const auto lot = side.find("lot")) found.cells.lot = lot->text(60);
  if (const auto expires = side.find("expires")) found.cells.expires = expires->month();
  if (const auto from_stock = side.find("from_stock")) found.from_stock = from_stock->boolean();
  if (const auto changed = side.find("changed_at")) {
    found.changed_at = read_time(*changed);
    if (found.changed_at > home_at)
      changed->refuse("out-of-range", "is after coming home: record that as a change of cells");
  }
  return found;
}

}  // namespace

std::vector<Side> read_sides(const Field& sides) {
  std::vector<Side> read;
  for (const Field& one : sides.elements(2)) {
    const Side side = read_side(one);
    if (!read.empty() && read.front() == side) one.refuse("out-of-range", "is named twice: name each side once");
    read.push_back(side);
  }
  if (read.empty()) sides.refuse("out-of-range", "names no side: give left, right, or both");
  return read;
}

PacedMore read_paced_more(const Field& body) {
  PacedMore more;
  more.sides = read_sides(body["sides"]);
  more.from = read_time(body["from"]);
  more.to = read_end(body, more.from);
  if (const auto hours = body.find("hours_per_day")) more.hours_per_day = hours->number(least_hours, 24);
  if (const auto amplitude = body.find("amplitude")) more.amplitude = amplitude->number(0.001, 1000);
  if (!more.hours_per_day && !more.amplitude) {
    throw json::Refused("missing", body.place() + "/hours_per_day", "give hours_per_day, amplitude, or both");
  }
  more.why = read_note(body, "why");
  if (const auto still = body.find("still_at")) more.still_at = read_time(*still);
  return more;
}

Visit read_visit(const Field& body) {
  return {read_sides(body["sides"]), read_time(body["at"]), read_note(body, "note")};
}

life::SinceHospital read_since_hospital(const Field& answer) {
  return static_cast<life::SinceHospital>(answer.word({"as_before", "changed", "dont_know"}));
}

Hospital read_hospital(const Field& body) {
  Hospital hospital;
  hospital.stay.from = read_time(body["from"]);
  hospital.stay.to = read_end(body, hospital.stay.from);
  if (const auto settings = body.find("settings")) hospital.stay.settings = read_since_hospital(*settings);
  if (const auto unit = body.find("unit")) hospital.stay.unit = read_since_hospital(*unit);
  hospital.note = read_note(body, "note");
  return hospital;
}

BackHome read_back_home(const Field& body) {
  BackHome home;
  home.at = read_time(body["at"]);
  for (auto& found : home.cells) found.changed_at = home.at;
  if (const auto cells = body.find("cells")) {
    if (const auto left = cells->find("left")) home.cells[0] = read_found(*left, home.at);
    if (const auto right = cells->find("right")) home.cells[1] = read_found(*right, home.at);
  }
  if (const auto settings = body.find("settings")) home.settings = read_since_hospital(*settings);
  if (const auto unit = body.find("unit")) home.unit = read_since_hospital(*unit);
  if (const auto used = body.find("unit_used"))
    home.unit_used = static_cast<UnitUsed>(used->word({"yes", "no", "dont_know"}));
  return home;
}

}  // namespace cellarer::service
