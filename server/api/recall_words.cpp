// SPDX-License-Identifier: MIT
#include "server/api/recall_words.hpp"

#include "model/life/calendar.hpp"
#include "server/api/sentences.hpp"

namespace cellarer::api {

std::string limit_with_recall(const std::optional<service::RecalledInSide>& recalled, const life::SideForecast& side,
                              Instant next_changing_time, Instant as_of, const life::Household& household,
                              std::string limit) {
  if (!recalled || side.warned_at || side.stopped_at) return limit;
  const auto when = [&](Instant at) { return when_text(at, as_of, life::zone_at(household, at)); };
  const bool passed = side.change_by && *side.change_by < as_of;
  if (recalled->sets_change_by && !passed)
    return "Change at the next changing time, " + when(*side.change_by) + "; this lot is recalled.";
  if (recalled->sets_change_by || side.change_by) return "This lot is recalled. " + limit;
  return "Change at the next changing time, " + when(next_changing_time) + "; this lot is recalled. " + limit;
}

int recalled_pieces(const service::ForecastAnswer& answer, const std::string& item) {
  int pieces = 0;
  for (const auto& line : answer.recalled_lines) pieces += line.item == item ? line.quantity : 0;
  return pieces;
}

std::string sentence_with_recall(const stock::ItemForecast& item, int recalled, std::string sentence) {
  const bool nothing_else = recalled > 0 && item.usable == 0 && !item.please_count;
  return nothing_else ? "No " + item.item + " in the house but of a recalled lot." : sentence;
}

std::string limit_with_recall(int recalled, std::string limit) {
  if (recalled > 0) limit += " " + std::to_string(recalled) + " of a recalled lot: set them apart.";
  return limit;
}

}  // namespace cellarer::api
