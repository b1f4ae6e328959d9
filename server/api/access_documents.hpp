// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/access/access_service.hpp"
#include "server/api/message.hpp"

/// Sessions, phones, accounts and invitations as the API shows them. Never a token, a code or a hash.
namespace cellarer::api {

struct Context;

/// {role, label, agency, household, account, until, hours, permissions, recovery_used_at}
nlohmann::json session_document(const access::Principal& principal);

/// The answer that signs in: the cookie, and what is said with it.
/// It ends what the same browser was signed in with before: a cookie that nobody holds any more opens nothing.
Response signed_in(const Context& context, const Request& request, const access::AccessService::Opened& opened,
                   const nlohmann::json& said, int status);

/// {account, role, label, since, last_seen, hours, until}
nlohmann::json account_document(const store::AccountRow& row);

/// {invitation, account, role, label, household, expires_at}
nlohmann::json invitation_document(const store::InvitationRow& row);

/// {session, signed_in_at, last_seen, until}
nlohmann::json session_line(const store::StoredSession& session);

}  // namespace cellarer::api
