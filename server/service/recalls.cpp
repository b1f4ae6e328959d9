// SPDX-License-Identifier: MIT
#include "server/service/recalls.hpp"

#include <algorithm>

#include "model/life/calendar.hpp"
#include "model/life/stint.hpp"
#include "model/life/words.hpp"

namespace cellarer::service {

namespace {

struct HeldLot {
  RecalledLot lot;
  Instant in_since;
};

/// The recalled lot that is in a side; none where none is.
std::optional<HeldLot> held(const HouseholdRecord& record, Side side, Instant as_of) {
  const auto stints = life::stints(record.life, side, as_of);
  if (stints.empty()) return std::nullopt;
  const auto& in = stints.back().in;
  for (const RecalledLot& one : record.recalled_lots) {
    if (one.item == stock::cells_item && in.cells.lot == one.lot && one.since <= as_of) return HeldLot{one, in.at};
  }
  return std::nullopt;
}

/// Whether the recall gave the side its date.
bool move_change_by(life::SideForecast& side, const HeldLot& held, const life::Household& household, Instant as_of) {
  if (!side.change_by) return false;
  const Instant known = std::max(held.lot.since, held.in_since);
  const auto times = life::changing_times(household, known, known + std::chrono::hours(48));
  const auto next = std::find_if(times.begin(), times.end(), [&](Instant time) { return time > known; });
  if (next == times.end() || *side.change_by <= *next) return false;
  side.change_by = *next;
  side.change_for_visit.reset();
  using life::Phrase;
  if (*next < as_of) {
    side.phrase = Phrase::change_now;
    if (std::find(side.questions.begin(), side.questions.end(), life::Question::was_it_changed) == side.questions.end())
      side.questions.push_back(life::Question::was_it_changed);
  } else if (side.phrase == Phrase::expected_to_last_tonight && *next <= life::start_of_tonight(household, as_of)) {
    side.phrase = Phrase::change_before_tonight;
  }
  return true;
}

}  // namespace

RecalledSides heed_recalls(const HouseholdRecord& record, life::HouseholdForecast& forecast) {
  RecalledSides recalled;
  if (record.recalled_lots.empty()) return recalled;
  for (const Side which : both_sides) {
    const std::size_t index = which == Side::left ? 0 : 1;
    const auto lot = held(record, which, forecast.as_of);
    if (!lot) continue;
    auto& side = forecast.sides[index];
    recalled[index] = {lot->lot.lot, lot->lot.since, move_change_by(side, *lot, record.life, forecast.as_of)};
    if (side.warned_at || side.stopped_at) continue;
    const auto day = life::day_words(lot->lot.since, life::zone_at(record.life, lot->lot.since));
    side.because.insert(side.because.begin(), "Lot " + lot->lot.lot + " was recalled on " + day + ".");
  }
  return recalled;
}

bool is_recalled(const HouseholdRecord& record, const stock::Line& line, Instant at) {
  return std::any_of(record.recalled_lots.begin(), record.recalled_lots.end(), [&](const RecalledLot& one) {
    return line.lot == one.lot && line.item == one.item && one.since <= at;
  });
}

stock::Stock usable_of(const HouseholdRecord& record, stock::Stock books, Instant as_of) {
  std::erase_if(books.lines, [&](const stock::Line& line) { return is_recalled(record, line, as_of); });
  return books;
}

std::vector<stock::Line> recalled_of(const HouseholdRecord& record, const stock::Stock& books, Instant as_of) {
  std::vector<stock::Line> lines;
  for (const stock::Line& line : books.lines) {
    if (line.quantity > 0 && is_recalled(record, line, as_of)) lines.push_back(line);
  }
  return lines;
}

}  // namespace cellarer::service
