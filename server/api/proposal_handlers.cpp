// SPDX-License-Identifier: MIT
// Profiles that technicians propose, and that a second person approves.
#include "server/api/handlers.hpp"
#include "server/api/profile_documents.hpp"
#include "server/api/write_door.hpp"
#include "server/json/field.hpp"
#include "server/service/review_book.hpp"
#include "server/service/unit_history.hpp"

namespace cellarer::api {

using cellarer::json::Field;
using service::Proposal;
using service::ReadProposal;

namespace {

/// The model of that unit as homes have recorded it; empty: none has.
std::string model_of_unit(const Context& context, const Request& request, const nlohmann::json& body) {
  if (body.value("kind", nlohmann::json()) != "unit" || !body.value("serial", nlohmann::json()).is_string()) return "";
  const auto histories = service::unit_histories(*context.review->of(request.principal->agency).agency);
  const auto found = histories.find(body["serial"].get<std::string>());
  return found == histories.end() ? "" : found->second.stimulator;
}

ReadProposal tried(const Context& context, const Request& request, const nlohmann::json& body) {
  const auto libraries = context.households.profiles().libraries_of(request.principal->agency);
  if (!body.is_object()) Field(body, "").refuse("wrong-type", "expected an object");
  auto read = service::read_proposal(Field(body, ""), *libraries, model_of_unit(context, request, body));
  const auto now = context.households.clock().now();
  if (read.measured_at && lies_ahead(*read.measured_at, now))
    read.problems.push_back(
        {"/at", std::nullopt, std::nullopt, "This time has not come yet: say when it was measured, now or earlier."});
  return read;
}

[[noreturn]] void refuse_problems(const ReadProposal& read) {
  std::vector<FieldError> errors;
  for (const auto& problem : read.problems) errors.push_back({problem.place, "out-of-range", problem.reason});
  if (errors.empty() && read.fit) errors.push_back({"/table", "out-of-range", read.fit->why_not});
  const auto first = errors.front().place + ": " + errors.front().reason;
  throw Problem(ProblemCode::out_of_range, first, std::move(errors));
}

const Proposal& proposal_numbered(const service::AgencyProfiles& profiles, const std::string& number) {
  for (const auto& proposal : profiles.proposals) {
    if (std::to_string(proposal.number) == number) return proposal;
  }
  throw Problem(ProblemCode::unknown_profile, "There is no proposal of that number.");
}

/// What was sent, without the file that was made of it.
nlohmann::json body_of(const Proposal& proposal) {
  nlohmann::json body = proposal.body;
  body.erase("document");
  body.erase("who");
  return body;
}

nlohmann::json whole_document(const Context& context, const Request& request, const Proposal& proposal) {
  auto document = proposal_line(proposal, request.principal->account);
  document["body"] = body_of(proposal);
  document["fit"] = nullptr;
  document["residuals"] = nlohmann::json::array();
  try {
    const auto libraries = context.households.profiles().libraries_of(request.principal->agency);
    const auto read =
        service::read_proposal(Field(proposal.body, ""), *libraries, proposal.body.at("document").value("id", ""));
    const auto made = tried_document(read);
    document["fit"] = made["fit"];
    document["residuals"] = made["residuals"];
  } catch (const cellarer::json::Refused&) {
    // Its base has gone from the profiles: what was made of it then stands in the versions.
  }
  document["effect"] = nullptr;
  const bool waits = proposal.state == Proposal::State::waiting && proposal.kind != Proposal::Kind::steps;
  if (waits) document["effect"] = effects_document(context.effects->of(request.principal->agency, proposal));
  return document;
}

/// Its dates are what an approval is decided by: none before they are known. Steps move none.
void require_known_effect(const Context& context, const std::string& agency, const Proposal& proposal) {
  if (proposal.state != Proposal::State::waiting || proposal.kind == Proposal::Kind::steps) return;
  if (context.effects->known(agency, proposal)) return;
  throw Problem(ProblemCode::effect_not_known,
                "It is still being worked out whose dates this would move. Approve it once they are shown.");
}

}  // namespace

Response post_profile_read(const Context& context, const Request& request, const Parts&) {
  return json_response(tried_document(tried(context, request, cellarer::json::parse(request.body))));
}

Response post_proposal(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto& agency = request.principal->agency;
  auto body = cellarer::json::parse(request.body);
  const auto read = tried(context, request, body);
  if (!read.usable()) refuse_problems(read);
  body["document"] = read.document;
  body["who"] = request.principal->label;
  const auto subject = std::string(service::proposal_kinds[static_cast<int>(read.kind)]) + '/' + read.subject;
  const auto recorded = context.households.journal().record(
      {agency, service::agency_kind::profile_proposal, subject, body.dump(), key, request.principal->account});
  const auto profiles = context.households.profiles().of(agency);
  auto response = json_response(
      whole_document(context, request, proposal_numbered(*profiles, std::to_string(recorded.entry.number))), 201);
  if (recorded.repeated) response.set("Idempotency-Replayed", "true");
  return response;
}

Response get_proposals(const Context& context, const Request& request, const Parts&) {
  const auto asked = request.query.find("state");
  const std::string state = asked == request.query.end() ? "all" : asked->second;
  if (state != "all" && state != "waiting" && state != "approved" && state != "refused")
    throw cellarer::json::Refused("out-of-range", "?state", "expected waiting, approved, refused or all");
  const auto profiles = context.households.profiles().of(request.principal->agency);
  auto all = nlohmann::json::array();
  for (auto one = profiles->proposals.rbegin(); one != profiles->proposals.rend(); ++one) {
    if (state == "all" || state == service::proposal_states[static_cast<int>(one->state)])
      all.push_back(proposal_line(*one, request.principal->account));
  }
  return json_response({{"proposals", std::move(all)}});
}

Response get_proposal(const Context& context, const Request& request, const Parts& parts) {
  const auto profiles = context.households.profiles().of(request.principal->agency);
  return json_response(whole_document(context, request, proposal_numbered(*profiles, parts.at("proposal"))));
}

Response post_decision(const Context& context, const Request& request, const Parts& parts) {
  const auto key = require_key(request);
  const auto& agency = request.principal->agency;
  const auto before = context.households.profiles().of(agency);
  const auto& proposal = proposal_numbered(*before, parts.at("proposal"));
  const auto document = cellarer::json::parse(request.body);
  const Field body(document, "");
  if (!document.is_object()) body.refuse("wrong-type", "expected an object");
  const auto said = service::read_decision(body);
  nlohmann::json decision{{"approve", said.approve}, {"who", request.principal->label}};
  if (said.reason) decision["reason"] = *said.reason;
  // Their own they may take back, never approve.
  if (said.approve && proposal.account == request.principal->account)
    throw Problem(ProblemCode::own_proposal, "You proposed this: a second person looks at it and decides.");
  if (decision["approve"] == true) require_known_effect(context, agency, proposal);
  const auto recorded = context.households.journal().record({agency, service::agency_kind::profile_decision,
                                                             std::to_string(proposal.number), decision.dump(), key,
                                                             request.principal->account, 0});
  // Forecasts rest on the profiles in force.
  context.households.for_each_of(agency, [&](const std::string& household) { context.forecasts.forget(household); });
  const auto after = context.households.profiles().of(agency);
  auto response = json_response(whole_document(context, request, proposal_numbered(*after, parts.at("proposal"))));
  if (recorded.repeated) response.set("Idempotency-Replayed", "true");
  return response;
}

Response get_profile_versions(const Context& context, const Request& request, const Parts&) {
  return json_response(versions_document(*context.households.profiles().of(request.principal->agency)));
}

Response get_forecast_then(const Context& context, const Request& request, const Parts& parts) {
  context.households.last_entry(parts.at("household"));  // an unknown household is said first
  context.households.require_clock();
  const auto asked = request.query.find("at");
  const nlohmann::json text = asked == request.query.end() ? nlohmann::json() : nlohmann::json(asked->second);
  if (text.is_null())
    throw cellarer::json::Refused("missing", "?at", "say of which moment, such as 2026-03-01T21:30:00Z");
  const Instant at = Field(text, "?at").instant();
  if (at > context.households.clock().now()) throw cellarer::json::Refused("out-of-range", "?at", "has not come yet");
  const auto record = context.households.record_at(parts.at("household"), at);
  Response response;
  response.body = std::make_shared<const std::string>(context.forecaster.make(record, at).forecast);
  return response;
}

}  // namespace cellarer::api
