// SPDX-License-Identifier: MIT
#include "server/service/what_if.hpp"

#include <algorithm>

#include "server/service/fold.hpp"

namespace cellarer::service {

using json::Field;

namespace {

std::string read_profile(const Field& cell, const Libraries& libraries) {
  const auto id = cell.text(80);
  const auto ids = libraries.cell_ids();
  if (std::find(ids.begin(), ids.end(), id) != ids.end()) return id;
  std::string known;
  for (const auto& one : ids) known += (known.empty() ? "" : ", ") + one;
  cell.refuse("out-of-range", "is no cell profile: expected one of " + known);
}

}  // namespace

TypedIn read_typed_in(const Field& body, const Libraries& libraries, Instant as_of) {
  TypedIn typed;
  if (const auto settings = body.find("settings")) {
    for (const Field& one : settings->elements(2)) {
      const auto read = read_settings_from(one, as_of);
      if (!typed.settings.empty() && typed.settings.front().side == read.side)
        one["side"].refuse("out-of-range", "has settings already: type in one group for each side");
      typed.settings.push_back(read);
    }
  }
  if (const auto cells = body.find("cells")) {
    if (const auto left = cells->find("left")) typed.cells[0] = read_profile(*left, libraries);
    if (const auto right = cells->find("right")) typed.cells[1] = read_profile(*right, libraries);
  }
  if (typed.settings.empty() && !typed.cells[0] && !typed.cells[1])
    throw json::Refused("missing", "/settings", "type in settings of a side, cells of a side, or both");
  return typed;
}

HouseholdRecord with_typed_in(const HouseholdRecord& record, const TypedIn& typed, const Libraries& libraries,
                              Instant as_of) {
  HouseholdRecord other = record;
  other.lessons = nullptr;  // what is typed in is another home's story
  for (const auto& settings : typed.settings) {
    other.life.settings.push_back(settings);
    for (auto& before : other.before_approval) before.life.settings.push_back(settings);
  }
  for (const Side side : both_sides) {
    const auto& profile = typed.cells[side == Side::left ? 0 : 1];
    if (!profile) continue;
    life::CellChange change;
    change.at = change.recorded_at = as_of;
    change.side = side;
    change.cells.profile = *profile;
    other.life.cell_changes.push_back(change);
  }
  complete(other, libraries);
  return other;
}

}  // namespace cellarer::service
