// SPDX-License-Identifier: MIT
#include "server/api/wear_document.hpp"

#include <cmath>

#include "server/json/field.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::api {

namespace {

std::string date_of(Instant at) { return date::format("%F", at); }

nlohmann::json fit_document(const review::WearOfKind& wear) {
  if (!wear.fit) return nullptr;
  const auto& fit = *wear.fit;
  return {{"shape", fit.shape},
          {"shape_low", fit.shape_95.low},
          {"shape_high", fit.shape_95.high},
          {"scale_days", fit.scale_days},
          {"scale_low_days", fit.scale_95_days.low},
          {"scale_high_days", fit.scale_95_days.high},
          {"median_days", fit.median_days()}};
}

/// Both sides wear theirs: whoever brings a new one has to know where it goes.
std::string side_text(const review::PartDue& due) {
  if (!due.side) return "";
  return *due.side == Side::left ? "Left side. " : "Right side. ";
}

nlohmann::json due_document(const review::PartDue& due, Instant as_of) {
  const auto due_on = date_of(hours_after(as_of, 24 * due.due_days));
  const auto expected_on = date_of(hours_after(as_of, 24 * due.expected_days));
  return {{"household", due.household},
          {"part", due.kind},
          {"side", due.side ? nlohmann::json(name_of(*due.side)) : nlohmann::json()},
          {"in_use_since", cellarer::json::rfc3339(due.in_use_since, nullptr)},
          {"days_in_use", std::floor(due.days_in_use)},
          {"due_on", due_on},
          {"expected_on", expected_on},
          {"worn_out_in_30_days", due.worn_out_in_30_days},
          {"text", side_text(due) + "In use for " + std::to_string(static_cast<int>(due.days_in_use)) +
                       " days. One in twenty is worn "
                       "out by " +
                       due_on + ", one in two by " + expected_on + "."}};
}

std::string text_of(const review::WearOfKind& wear) {
  if (!wear.fit) return "Too few have worn out so far to tell how long they last.";
  return std::to_string(wear.fit->worn_out) + " of " + std::to_string(wear.fit->in_all) +
         " have worn out; half last longer than " + std::to_string(std::lround(wear.fit->median_days())) + " days.";
}

}  // namespace

nlohmann::json wear_document(const std::vector<review::WearOfKind>& wear, Instant as_of) {
  auto kinds = nlohmann::json::array();
  for (const auto& one : wear) {
    auto due = nlohmann::json::array();
    for (const auto& part : one.due) due.push_back(due_document(part, as_of));
    kinds.push_back({{"kind", one.kind},
                     {"worn_out", one.fit ? nlohmann::json(one.fit->worn_out) : nlohmann::json()},
                     {"in_all", one.fit ? nlohmann::json(one.fit->in_all) : nlohmann::json()},
                     {"fit", fit_document(one)},
                     {"text", text_of(one)},
                     {"due", std::move(due)}});
  }
  return {{"kinds", std::move(kinds)}};
}

}  // namespace cellarer::api
