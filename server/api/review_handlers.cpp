// SPDX-License-Identifier: MIT
// What the technician reads: histories, units, lots, findings, worn parts.
#include <algorithm>
#include <array>

#include "server/api/finding_list.hpp"
#include "server/api/handlers.hpp"
#include "server/api/left_out.hpp"
#include "server/api/side_history.hpp"
#include "server/api/unit_documents.hpp"
#include "server/api/wear_document.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::api {

using service::FindingState;

namespace {

struct AtHome {
  service::Reviewed reviewed;
  std::shared_ptr<const service::ReviewedHome> home;
  review::HouseholdHistory history;  ///< with what the bench measured, where the review of all has it
  review::Spreads spreads;
  Side side = Side::left;
};

AtHome at_home(const Context& context, const Request& request, const Parts& parts) {
  AtHome at;
  at.home = context.review->home(parts.at("household"));
  const auto& side = parts.at("side");
  if (side != "left" && side != "right")
    throw Problem(ProblemCode::not_found, "A side is left or right: mend the address.");
  at.side = side == "left" ? Side::left : Side::right;
  at.reviewed = context.review->of(request.principal->agency);
  at.history = at.home->history;
  const auto& agency = *at.reviewed.agency;
  at.spreads = agency.homes.empty() ? review::Spreads::with_agency(*at.home->agency) : agency.options.spreads;
  const auto measured = agency.bench_checks.find(at.home->reference);
  if (measured != agency.bench_checks.end())
    at.history.checks.insert(at.history.checks.end(), measured->second.begin(), measured->second.end());
  return at;
}

/// Of nothing yet, null: an empty list is then no news.
nlohmann::json as_of(const service::Reviewed& reviewed) {
  if (!reviewed.made) return nullptr;
  return cellarer::json::rfc3339(reviewed.agency->as_of, nullptr);
}

nlohmann::json stamped(const Context& context, const Request& request, const service::Reviewed& reviewed,
                       nlohmann::json document) {
  document["left_out"] = left_out(context, request);
  document["as_of"] = as_of(reviewed);
  document["fresh"] = reviewed.fresh;
  return document;
}

std::string query_or(const Request& request, const char* name, const std::string& otherwise) {
  const auto found = request.query.find(name);
  return found == request.query.end() ? otherwise : found->second;
}

}  // namespace

Response get_side_history(const Context& context, const Request& request, const Parts& parts) {
  const auto at = at_home(context, request, parts);
  auto document = side_history(*at.home, at.history, at.side, at.spreads, context.households.clock().now());
  document["fresh"] = at.reviewed.fresh;
  document["findings"] = findings_of(*at.reviewed.agency, at.home->reference);
  return json_response(document);
}

Response get_side_history_csv(const Context& context, const Request& request, const Parts& parts) {
  const auto at = at_home(context, request, parts);
  Response response;
  response.content_type = "text/csv; charset=utf-8";
  response.set("Content-Disposition",
               "attachment; filename=\"history-" + at.home->reference + "-" + name_of(at.side) + ".csv\"");
  response.body = std::make_shared<const std::string>(side_history_csv(*at.home, at.history, at.side, at.spreads));
  return response;
}

Response get_units(const Context& context, const Request& request, const Parts&) {
  const auto reviewed = context.review->of(request.principal->agency);
  const auto histories = service::unit_histories(*reviewed.agency);
  auto units = nlohmann::json::array();
  for (const auto& pooled : reviewed.agency->review.units) {  // worst first; then those of which nothing was seen
    const auto unit = histories.find(pooled.subject);
    if (unit != histories.end()) units.push_back(unit_line(*reviewed.agency, unit->second, &pooled));
  }
  for (const auto& [serial, unit] : histories) {
    if (pooled_of(reviewed.agency->review.units, serial) == nullptr)
      units.push_back(unit_line(*reviewed.agency, unit, nullptr));
  }
  return json_response(stamped(context, request, reviewed, {{"units", std::move(units)}}));
}

Response get_unit(const Context& context, const Request& request, const Parts& parts) {
  const auto reviewed = context.review->of(request.principal->agency);
  if (!reviewed.made)
    throw Problem(ProblemCode::busy,
                  "The first review since the service started is being made. Ask again in a minute.");
  const auto histories = service::unit_histories(*reviewed.agency);
  const auto unit = histories.find(parts.at("serial"));
  if (unit == histories.end()) throw Problem(ProblemCode::unknown_unit, "No unit of that serial number was recorded.");
  const auto libraries = context.households.profiles().libraries_of(request.principal->agency);
  const auto profiles = context.households.profiles().of(request.principal->agency);
  const auto homes = context.review->homes(request.principal->agency, unit->second.homes());
  auto document =
      unit_document(*reviewed.agency, unit->second, homes, *libraries, *profiles, request.principal->account);
  document["findings"] = nlohmann::json::array();
  for (const auto& finding : reviewed.agency->findings) {
    if (finding.document.value("subject", nlohmann::json()) == nlohmann::json(unit->first))
      document["findings"].push_back(listed_document(finding));
  }
  return json_response(stamped(context, request, reviewed, std::move(document)));
}

Response get_lots_in_use(const Context& context, const Request& request, const Parts&) {
  const auto reviewed = context.review->of(request.principal->agency);
  auto lots = nlohmann::json::array();
  for (const auto& lot : reviewed.agency->review.lots) lots.push_back(lot_document(*reviewed.agency, lot));
  return json_response(stamped(context, request, reviewed, {{"lots", std::move(lots)}}));
}

Response get_findings(const Context& context, const Request& request, const Parts&) {
  const auto state = query_or(request, "state", "open"), household = query_or(request, "household", "");
  if (state != "open" && state != "closed" && state != "all")
    throw cellarer::json::Refused("out-of-range", "?state", "expected open, closed or all");
  const auto reviewed = context.review->of(request.principal->agency);
  std::array<int, 4> counts{};
  auto findings = nlohmann::json::array();
  for (const auto& finding : reviewed.agency->findings) {
    ++counts[static_cast<std::size_t>(finding.state)];
    const bool closed = finding.state == FindingState::closed;
    if ((state == "open" && closed) || (state == "closed" && !closed)) continue;
    const bool of_home =
        household.empty() || std::find(finding.homes.begin(), finding.homes.end(), household) != finding.homes.end();
    if (of_home) findings.push_back(listed_document(finding));
  }
  return json_response(
      stamped(context, request, reviewed,
              {{"waiting", reviewed.waiting},
               {"counts", {{"open", counts[0]}, {"seen", counts[1]}, {"taken_on", counts[2]}, {"closed", counts[3]}}},
               {"findings", std::move(findings)}}));
}

Response get_wear(const Context& context, const Request& request, const Parts&) {
  const auto reviewed = context.review->of(request.principal->agency);
  auto document = wear_document(reviewed.agency->wear, reviewed.agency->as_of);
  document["as_of"] = as_of(reviewed);
  return json_response(document);
}

}  // namespace cellarer::api
