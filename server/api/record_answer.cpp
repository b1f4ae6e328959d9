// SPDX-License-Identifier: MIT
#include "server/api/record_answer.hpp"

#include <spdlog/spdlog.h>

#include "server/api/entry_document.hpp"
#include "server/api/household_page.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

using service::HouseholdRecord;

namespace {

std::string side_word(Side side) { return name_of(side); }

/// What is asked about the entry just recorded.
nlohmann::json questions_about(const HouseholdRecord& record, const service::Entry& entry) {
  auto questions = nlohmann::json::array();
  if (entry.kind != service::kind::cell_change) return questions;
  for (const auto& asked : record.asked_changes) {
    if (asked.entry != entry.number) continue;
    questions.push_back({{"code", "same_change_twice"},
                         {"entry", entry.number},
                         {"text", "Another change of the " + side_word(asked.side) +
                                      " cells was recorded within 12 hours of this one. Is it the same change?"}});
  }
  const auto body = cellarer::json::without_nulls(nlohmann::json::parse(entry.body));
  const auto profile = body.value("/cells/profile"_json_pointer, nlohmann::json());
  if (profile.is_string()) {
    const auto known = record.life.cell_profiles.find(profile.get<std::string>());
    if (known == record.life.cell_profiles.end() || !known->second.usable) {
      questions.push_back({{"code", "wrong_cells"},
                           {"text", "These cells have no forecast. Put fresh alkaline cells into the " +
                                        body.value("side", "") + " side, both of one type."}});
    }
  }
  return questions;
}

/// What is forecast after a write, as text. The fact is stored: a forecast that cannot be made must not look like a
/// write that failed.
template <class Make>
std::string or_null(const Request& request, const Make& make) {
  try {
    return make();
  } catch (const std::exception& error) {
    spdlog::error("request={} forecast after a write: {}", request.id, error.what());
    return "null";
  }
}

std::string packing_text(const Context& context, const HouseholdRecord& record, const service::Entry& stay) {
  context.households.require_clock();
  const auto body = nlohmann::json::parse(stay.body);
  const auto read = service::read_stay(cellarer::json::Field(body, ""));
  return bytes_of(context.forecaster.packing(record, read, context.households.clock().now()));
}

/// What the answer is to hold (RFC 7240).
bool prefers(const Request& request, const char* what) {
  return header(request, "prefer").value_or("").find(what) != std::string::npos;
}

constexpr const char* entry_alone = "return=minimal";
constexpr const char* with_household = "return=representation";

/// The entry alone.
std::string short_answer(const service::Entry& entry) {
  const nlohmann::json short_entry{{"id", entry.number}, {"kind", entry.kind}};
  return bytes_of({{"entry", short_entry}, {"questions", nlohmann::json::array()}});
}

std::string full_answer(const Context& context, const Request& request, const std::string& household,
                        const service::Entry& entry) {
  const auto snapshot = context.households.snapshot(household);
  const HouseholdRecord& record = snapshot->record;
  auto shown = entry;
  if (const auto found = snapshot->voided_by.find(entry.number); found != snapshot->voided_by.end()) {
    shown.voided_by = found->second;
  }
  std::string text = "{\"entry\":" + bytes_of(entry_document(shown, record.life.zone));
  text += ",\"questions\":" + bytes_of(questions_about(record, entry));
  if (entry.kind == service::kind::stay)
    text += ",\"packing\":" + or_null(request, [&] { return packing_text(context, record, entry); });
  if (prefers(request, with_household)) {
    const auto& agency = request.principal->agency;
    text += ",\"household\":" + or_null(request, [&] { return bytes_of(household_page(context, agency, *snapshot)); });
  }
  return text + ",\"forecast\":" + or_null(request, [&] { return *context.forecasts.get(household)->forecast; }) + "}";
}

/// The fact is stored: an answer that cannot be made whole must not look like a write that failed.
std::string best_answer(const Context& context, const Request& request, const std::string& household,
                        const service::Entry& entry) {
  try {
    return full_answer(context, request, household, entry);
  } catch (const std::exception& error) {
    spdlog::error("request={} the answer to a write: {}", request.id, error.what());
    return short_answer(entry);
  }
}

}  // namespace

Response answer_to(const Context& context, const Request& request, const std::string& household,
                   const service::Recorded& recorded) {
  const bool minimal = prefers(request, entry_alone);
  Response response;
  response.status = 201;
  if (recorded.repeated) response.set("Idempotency-Replayed", "true");
  if (minimal)
    response.set("Preference-Applied", entry_alone);
  else if (prefers(request, with_household))
    response.set("Preference-Applied", with_household);
  response.body = std::make_shared<const std::string>(
      minimal ? short_answer(recorded.entry) : best_answer(context, request, household, recorded.entry));
  return response;
}

}  // namespace cellarer::api
