// SPDX-License-Identifier: MIT
#include "model/life/stint.hpp"

#include <algorithm>

namespace cellarer::life {

namespace {

template <class Entry>
std::vector<Entry> known(const std::vector<Entry>& entries, Side side, Instant as_of) {
  std::vector<Entry> chosen;
  for (const auto& entry : entries) {
    if (entry.side == side && entry.at <= as_of && entry.recorded_at <= as_of) chosen.push_back(entry);
  }
  std::stable_sort(chosen.begin(), chosen.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  return chosen;
}

/// Of a reading at the very minute of a change: whether it is the new set's.
bool is_of_the_new_set(const Reading& reading) {
  const bool shown =
      !std::holds_alternative<WarningSounded>(reading.value) && !std::holds_alternative<SideStopped>(reading.value);
  return shown && reading.condition == Condition::just_on;
}

}  // namespace

std::vector<Stint> stints(const Household& household, Side side, Instant as_of) {
  std::vector<Stint> sequence;
  for (const auto& change : known(household.cell_changes, side, as_of)) {
    if (change.perhaps_the_same && !sequence.empty()) continue;
    if (!sequence.empty()) sequence.back().out = change;
    sequence.push_back({change, std::nullopt, {}});
  }
  const auto readings = known(household.readings, side, as_of);
  if (sequence.empty() && !readings.empty()) {
    // Someone reads a side whose cells nobody recorded: there are cells in it, of which nothing is known.
    CellChange unknown;
    unknown.at = unknown.recorded_at = readings.front().at;
    unknown.side = side;
    unknown.reason = ChangeReason::unknown;
    unknown.cells.age = CellAge::unknown;
    sequence.push_back({unknown, std::nullopt, {}});
  }
  for (const auto& reading : readings) {
    const auto after = std::find_if(sequence.rbegin(), sequence.rend(), [&](const Stint& stint) {
      return stint.in.at < reading.at || (stint.in.at == reading.at && is_of_the_new_set(reading));
    });
    if (after != sequence.rend())
      after->readings.push_back(reading);
    else if (!sequence.empty() && sequence.front().in.at == reading.at)
      sequence.front().readings.push_back(reading);
  }
  return sequence;
}

std::optional<Instant> last_recorded(const Household& household, Side side, Instant as_of) {
  std::optional<Instant> newest;
  for (const auto& change : known(household.cell_changes, side, as_of)) newest = change.at;
  for (const auto& reading : known(household.readings, side, as_of)) {
    if (!newest || reading.at > *newest) newest = reading.at;
  }
  return newest;
}

}  // namespace cellarer::life
