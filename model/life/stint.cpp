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

bool is_an_end(const Reading& reading) {
  return std::holds_alternative<WarningSounded>(reading.value) || std::holds_alternative<SideStopped>(reading.value);
}

}  // namespace

std::vector<Stint> stints(const Household& household, Side side, Instant as_of) {
  std::vector<Stint> sequence;
  for (const auto& change : known(household.cell_changes, side, as_of)) {
    if (change.perhaps_the_same && !sequence.empty()) continue;
    if (!sequence.empty()) sequence.back().out = change;
    sequence.push_back({change, std::nullopt, {}});
  }
  for (const auto& reading : known(household.readings, side, as_of)) {
    const auto after = std::find_if(sequence.rbegin(), sequence.rend(), [&](const Stint& stint) {
      return stint.in.at < reading.at || (stint.in.at == reading.at && !is_an_end(reading));
    });
    if (after != sequence.rend()) after->readings.push_back(reading);
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
