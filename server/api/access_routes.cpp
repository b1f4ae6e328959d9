// SPDX-License-Identifier: MIT
#include "server/api/access_routes.hpp"

#include "server/api/handlers.hpp"

namespace cellarer::api {

namespace {

using enum ProblemCode;
using access::Permission;
using enum Permission;

Route reads(const char* path, const char* name, const char* summary, Permission needs, Handler handler,
            const char* gives, std::vector<ProblemCode> problems = {}) {
  return {"GET",   path,    name,  summary, needs, Runs::compute,      handler,
          nullptr, nullptr, gives, 200,     {},    std::move(problems)};
}

Route takes(const char* path, const char* name, const char* summary, Permission needs, Runs runs, Handler handler,
            const char* what, const char* gives, int success, std::vector<ProblemCode> problems) {
  return {"POST", path, name, summary, needs, runs, handler, nullptr, what, gives, success, {}, std::move(problems),
          false};
}

Route ends(const char* path, const char* name, const char* summary, Permission needs, Handler handler,
           std::vector<ProblemCode> problems = {}) {
  return {"DELETE", path,    name,    summary, needs, Runs::write,         handler,
          nullptr,  nullptr, nullptr, 204,     {},    std::move(problems), false};
}

}  // namespace

std::vector<Route> access_routes() {
  std::vector<Route> all{
      reads("/session", "session", "Who is signed in here, and what they may do", signed_in, get_session, "Session"),
      ends("/session", "signOut", "Ends the session", signed_in, delete_session),
      takes("/invitations", "invite", "Invites a phone, or staff: a link that works once, and soon", invite,
            Runs::write, post_invitation, "NewInvitation", "Invitation", 201, {unknown_household}),
      reads("/invitations", "invitations", "Open invitations, without their codes", invite, get_invitations,
            "Invitations"),
      ends("/invitations/{invitation}", "withdrawInvitation", "Takes an open invitation back", invite,
           delete_invitation, {invitation_used_or_over}),
      takes("/invitations/accept", "acceptInvitation", "Signs this phone in by an invitation", anyone, Runs::sign_in,
            post_accept, "Acceptance", "Session", 201, {invitation_used_or_over, too_many_attempts}),
      takes("/passkeys/options", "passkeyOptions", "What a further passkey is made with", signed_in, Runs::sign_in,
            post_passkey_options, "Nothing", "PasskeyOptions", 200, {too_many_attempts}),
      takes("/passkeys", "keepPasskey", "Keeps a passkey: the first, with the code of an invitation, or a further one",
            anyone, Runs::sign_in, post_passkey, "NewPasskey", "Session", 201,
            {invitation_used_or_over, not_signed_in, not_allowed, too_many_attempts}),
      takes("/sign-in/options", "signInOptions", "What a passkey is to sign", anyone, Runs::sign_in,
            post_sign_in_options, "Nothing", "SignInOptions", 200, {too_many_attempts}),
      takes("/sign-in", "signIn", "Signs staff in by a passkey", anyone, Runs::sign_in, post_sign_in, "SignIn",
            "Session", 200, {not_signed_in, too_many_attempts}),
      takes("/sign-in/recovery", "recover",
            "Signs in by a printed code: staff's, or a household's sealed one, which signs out its other phones",
            anyone, Runs::sign_in, post_recovery, "TypedCode", "Session", 200, {not_signed_in, too_many_attempts}),
      takes("/households/{household}/recovery-code", "makeSealedCode",
            "A new sealed code for the household's drawer; the one before is void", make_sealed_code, Runs::compute,
            post_sealed_code, "Nothing", "SealedCode", 201, {unknown_household}),
      reads("/households/{household}/phones", "phones", "Phones that are signed in to the household", see_phones,
            get_phones, "Phones", {unknown_household}),
      ends("/households/{household}/phones/{account}", "endPhone", "Signs a phone out and ends its account", end_phones,
           delete_phone, {unknown_household, unknown_account}),
      reads("/accounts", "accounts", "Staff of the agency", manage_accounts, get_accounts, "Accounts"),
      ends("/accounts/{account}", "endAccount", "Ends an account of the agency, with its sessions", manage_accounts,
           delete_account, {unknown_account}),
      reads("/accounts/{account}/sessions", "accountSessions", "Sessions of an account: one's own, or staff's",
            signed_in, get_account_sessions, "Sessions", {unknown_account}),
      ends("/sessions/{session}", "endSession", "Ends a session: one's own, or staff's", signed_in,
           delete_other_session, {unknown_account}),
      reads("/agencies", "agencies", "Agencies, with how many households and accounts they have", manage_agencies,
            get_agencies, "Agencies"),
      takes("/agencies", "createAgency", "Makes an agency", manage_agencies, Runs::write, post_agency, "NewAgency",
            "Agency", 201, {agency_exists}),
      reads("/audit", "audit", "The agency's audit trail, newest first, and whether it is whole", read_audit, get_audit,
            "Audit"),
      takes("/households/{household}/erase", "eraseHousehold",
            "Erases a household; of its links in the trail the hashes stay, its stock stays in the agency's ledger",
            erase_household, Runs::write, post_erase, "Erase", "Erased", 200, {unknown_household}),
      reads("/stock-ledger", "stockLedger", "What became of the agency's stock, by item and lot", read_stock_ledger,
            get_stock_ledger, "StockLedger"),
  };
  for (Route& route : all) {
    if (std::string(route.name) == "audit") route.query = {"cursor", "limit"};
  }
  all.front().runs = Runs::io;  // one's own session is in memory
  return all;
}

}  // namespace cellarer::api
