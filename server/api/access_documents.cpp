// SPDX-License-Identifier: MIT
#include "server/api/access_documents.hpp"

#include "server/access/guest_hours.hpp"
#include "server/access/permissions.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

namespace {

nlohmann::json household_or_null(const std::string& key) {
  return key.empty() ? nlohmann::json(nullptr) : nlohmann::json(reference_of(key));
}

nlohmann::json hours_or_null(const std::optional<access::Hours>& hours) {
  if (!hours) return nullptr;
  return {{"from", json::clock_text(std::chrono::minutes(hours->from_min))},
          {"to", json::clock_text(std::chrono::minutes(hours->to_min))}};
}

}  // namespace

nlohmann::json session_document(const access::Principal& principal) {
  return {{"role", name_of(principal.role)},
          {"label", principal.label},
          {"agency", json::text_or_null(principal.agency)},
          {"household", household_or_null(principal.household_key)},
          {"account", principal.account},
          {"until", json::time_or_null(principal.until, principal.zone)},
          {"hours", hours_or_null(principal.hours)},
          {"permissions", access::permissions_of(principal.role)},
          {"recovery_used_at", json::time_or_null(principal.recovery_used_at)}};
}

nlohmann::json account_document(const store::AccountRow& row) {
  const auto& account = row.account;
  const auto principal = access::Sessions::principal_of({{}, account});
  return {{"account", account.id},
          {"role", account.role},
          {"label", account.label},
          {"since", json::time_or_null(account.bound_at)},
          {"last_seen", json::time_or_null(row.last_seen_at)},
          {"hours", hours_or_null(principal.hours)},
          {"until", json::time_or_null(principal.until, principal.zone)}};
}

nlohmann::json invitation_document(const store::InvitationRow& row) {
  return {{"invitation", row.invitation.id},
          {"account", row.account.id},
          {"role", row.account.role},
          {"label", row.account.label},
          {"household", household_or_null(row.account.household)},
          {"expires_at", json::time_or_null(row.invitation.expires_at)}};
}

nlohmann::json session_line(const store::StoredSession& session) {
  return {{"session", session.id},
          {"signed_in_at", json::time_or_null(session.signed_in_at)},
          {"last_seen", json::time_or_null(session.last_seen_at)},
          {"until", json::time_or_null(session.expires_at)}};
}

}  // namespace cellarer::api
