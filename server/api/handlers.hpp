// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

/// The handlers that the table of routes names; one file a subject.
namespace cellarer::api {

// system_handlers.cpp
Response get_health(const Context&, const Request&, const Parts&);
Response get_ready(const Context&, const Request&, const Parts&);
Response get_openapi(const Context&, const Request&, const Parts&);

// profile_handlers.cpp
Response get_cell_profiles(const Context&, const Request&, const Parts&);
Response get_stimulators(const Context&, const Request&, const Parts&);
Response get_stimulator(const Context&, const Request&, const Parts&);

// household_handlers.cpp
Response post_household(const Context&, const Request&, const Parts&);
Response get_households(const Context&, const Request&, const Parts&);
Response get_household(const Context&, const Request&, const Parts&);
Response get_export(const Context&, const Request&, const Parts&);
Response get_entries(const Context&, const Request&, const Parts&);

// agency_handlers.cpp
Response get_audit(const Context&, const Request&, const Parts&);
Response post_erase(const Context&, const Request&, const Parts&);
Response get_stock_ledger(const Context&, const Request&, const Parts&);

// forecast_handlers.cpp
Response get_forecast(const Context&, const Request&, const Parts&);
Response get_chart(const Context&, const Request&, const Parts&);
std::optional<Response> kept_forecast(const Context&, const Request&, const Parts&);
std::optional<Response> kept_chart(const Context&, const Request&, const Parts&);

// help_handlers.cpp
Response get_help(const Context&, const Request&, const Parts&);
Response post_help(const Context&, const Request&, const Parts&);

// reminder_handlers.cpp
Response get_reminders(const Context&, const Request&, const Parts&);
Response post_reminders(const Context&, const Request&, const Parts&);
Response post_calendar(const Context&, const Request&, const Parts&);
Response delete_calendar(const Context&, const Request&, const Parts&);
Response get_reminders_feed(const Context&, const Request&, const Parts&);
Response post_push(const Context&, const Request&, const Parts&);
Response delete_push(const Context&, const Request&, const Parts&);
Response post_push_trial(const Context&, const Request&, const Parts&);
Response post_push_confirmed(const Context&, const Request&, const Parts&);

// event_handlers.cpp
Response get_events(const Context&, const Request&, const Parts&);

// record_handlers.cpp: each stores one fact
Response post_unit(const Context&, const Request&, const Parts&);
Response post_settings(const Context&, const Request&, const Parts&);
Response post_cell_change(const Context&, const Request&, const Parts&);
Response post_reading(const Context&, const Request&, const Parts&);
Response post_paced(const Context&, const Request&, const Parts&);
Response post_switched_off(const Context&, const Request&, const Parts&);
Response post_stock_count(const Context&, const Request&, const Parts&);
Response post_delivery(const Context&, const Request&, const Parts&);
Response post_discard(const Context&, const Request&, const Parts&);
Response post_use(const Context&, const Request&, const Parts&);
Response post_void(const Context&, const Request&, const Parts&);
Response post_answer(const Context&, const Request&, const Parts&);

// plan_handlers.cpp
Response post_paced_more(const Context&, const Request&, const Parts&);
Response post_visit(const Context&, const Request&, const Parts&);
Response post_stay(const Context&, const Request&, const Parts&);
Response post_hospital(const Context&, const Request&, const Parts&);
Response post_back_home(const Context&, const Request&, const Parts&);
Response post_end(const Context&, const Request&, const Parts&);
Response post_what_if(const Context&, const Request&, const Parts&);

// review_handlers.cpp: the technician reads
Response get_side_history(const Context&, const Request&, const Parts&);
Response get_side_history_csv(const Context&, const Request&, const Parts&);
Response get_units(const Context&, const Request&, const Parts&);
Response get_unit(const Context&, const Request&, const Parts&);
Response get_lots_in_use(const Context&, const Request&, const Parts&);
Response get_findings(const Context&, const Request&, const Parts&);
Response get_wear(const Context&, const Request&, const Parts&);

// bench_handlers.cpp: the technician records
Response post_check(const Context&, const Request&, const Parts&);
Response post_part(const Context&, const Request&, const Parts&);
Response post_finding_state(const Context&, const Request&, const Parts&);
Response post_unit_event(const Context&, const Request&, const Parts&);

// proposal_handlers.cpp: profiles that technicians propose and approve
Response post_profile_read(const Context&, const Request&, const Parts&);
Response post_proposal(const Context&, const Request&, const Parts&);
Response get_proposals(const Context&, const Request&, const Parts&);
Response get_proposal(const Context&, const Request&, const Parts&);
Response post_decision(const Context&, const Request&, const Parts&);
Response get_profile_versions(const Context&, const Request&, const Parts&);
Response get_forecast_then(const Context&, const Request&, const Parts&);

// session_handlers.cpp
Response get_session(const Context&, const Request&, const Parts&);
Response delete_session(const Context&, const Request&, const Parts&);
Response post_accept(const Context&, const Request&, const Parts&);

// staff_handlers.cpp
Response post_passkey_options(const Context&, const Request&, const Parts&);
Response post_passkey(const Context&, const Request&, const Parts&);
Response post_sign_in_options(const Context&, const Request&, const Parts&);
Response post_sign_in(const Context&, const Request&, const Parts&);
Response post_recovery(const Context&, const Request&, const Parts&);
Response post_sealed_code(const Context&, const Request&, const Parts&);

// invitation_handlers.cpp
Response post_invitation(const Context&, const Request&, const Parts&);
Response get_invitations(const Context&, const Request&, const Parts&);
Response delete_invitation(const Context&, const Request&, const Parts&);

// account_handlers.cpp
Response get_phones(const Context&, const Request&, const Parts&);
Response delete_phone(const Context&, const Request&, const Parts&);
Response get_accounts(const Context&, const Request&, const Parts&);
Response delete_account(const Context&, const Request&, const Parts&);
Response get_account_sessions(const Context&, const Request&, const Parts&);
Response delete_other_session(const Context&, const Request&, const Parts&);
Response get_agencies(const Context&, const Request&, const Parts&);
Response post_agency(const Context&, const Request&, const Parts&);

}  // namespace cellarer::api
