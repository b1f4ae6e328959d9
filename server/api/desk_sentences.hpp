// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include <nlohmann/json.hpp>

#include "model/rounds/adjust.hpp"
#include "model/rounds/remedies.hpp"
#include "server/service/coming_rounds.hpp"

/// What the planner's desk says in words, to the agency and to the home.
namespace cellarer::api {

/// How an entry of the desk reads in the household's records (service/desk_kinds.hpp).
std::string desk_entry_text(const std::string& kind, const nlohmann::json& body);

/// "Running short: seen by the agency at 09:12." or "Running short: not seen by the agency yet. Call."
std::string message_text(const service::DeskMessage& message, Instant now, Zone zone);
/// "Planned for Wed 2 Dec."
std::string delivery_text(const service::DeskDelivery& delivery, service::DeliveryState state, stock::Date today);

/// Where the packs are that did not come.
std::string settled_text(const service::DeskDelivery& delivery);
std::string left_text(const rounds::Left& left, stock::Date today);
std::string remedy_text(const rounds::Remedy& remedy, stock::Date today);
/// What a change by hand would mean, a sentence each; the most important first.
std::vector<std::string> consequence_texts(const rounds::Consequence& consequence, stock::Date today);

}  // namespace cellarer::api
