// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"
#include "server/service/planner_desk.hpp"

/// What the planner's desk answers, and what its handlers have in common.
namespace cellarer::api {

/// Never null behind a service; throws `not-found` where none is served.
service::PlannerDesk& desk_of(const Context& context);
service::Doing doing(const Request& request, const std::string& key);

/// The body as a JSON object. Throws `json::Refused`.
nlohmann::json object_of(const Request& request);

nlohmann::json date_or_null(const std::optional<rounds::Date>& date);
/// {"item", "packs", "pieces", "lots": [{"lot", "packs", "expires"}]}
nlohmann::json line_document(const service::DeliveryLine& line);
nlohmann::json delivery_document(const service::DeskDelivery& delivery, service::DeliveryState state,
                                 rounds::Date today);
nlohmann::json left_document(const rounds::Left& left, rounds::Date today);
nlohmann::json stops_document(const std::vector<rounds::ConfirmedStop>& stops);
nlohmann::json missing_lots_document(const std::vector<service::MissingLot>& lots);
nlohmann::json comes_back_document(const std::vector<service::ComesBack>& list);

/// `zone`: the desks' own.
nlohmann::json plan_draft_document(const service::PlanDraft& draft, Zone zone);
nlohmann::json consequence_document(const rounds::Consequence& consequence, rounds::Date today);
/// A round as it stands; null: neither in the calendar nor confirmed.
nlohmann::json round_document(service::PlannerDesk& desk, const std::string& agency, const service::LotFacts& lots,
                              const std::string& round, Instant now);

}  // namespace cellarer::api
