// SPDX-License-Identifier: MIT
#include "server/api/review_routes.hpp"

#include "server/api/handlers.hpp"

namespace cellarer::api {

namespace {

using enum ProblemCode;
using access::Permission;

Route observes(const char* path, const char* name, const char* summary, Handler handler, const char* gives,
               std::vector<const char*> query = {}, std::vector<ProblemCode> problems = {}) {
  return {"GET",   path,    name,  summary, Permission::review, Runs::compute,      handler,
          nullptr, nullptr, gives, 200,     std::move(query),   std::move(problems)};
}

Route records(const char* path, const char* name, const char* summary, Permission needs, Handler handler,
              const char* takes, const char* gives, std::vector<ProblemCode> problems) {
  return {"POST",  path,  name,  summary, needs, Runs::write,        handler,
          nullptr, takes, gives, 201,     {},    std::move(problems)};
}

}  // namespace

std::vector<Route> review_routes() {
  return {
      observes("/households/{household}/sides/{side}/history", "sideHistory",
               "Every finished set of a side, observed against expected, with its charts", get_side_history,
               "SideHistory", {}, {unknown_household, not_found}),
      observes("/households/{household}/sides/{side}/history.csv", "sideHistoryTable", "The same as a table (text/csv)",
               get_side_history_csv, "Table", {}, {unknown_household, not_found}),
      records("/households/{household}/checks", "recordCheck", "Settings read off the unit, or hours noted",
              Permission::review, post_check, "BenchCheck", "Recorded", {unknown_household, future_date}),
      records("/households/{household}/parts", "recordPart", "A part that wears was put into use",
              Permission::record_setup, post_part, "Part", "Recorded", {unknown_household, future_date}),
      observes("/units", "units", "Units of the agency, worst first", get_units, "Units"),
      observes("/units/{serial}", "unit", "One unit: places, faults, bench values, sets", get_unit, "UnitHistory", {},
               {unknown_unit}),
      records("/units/{serial}/events", "recordUnitEvent", "A unit came to the workshop, failed, was mended, withdrawn",
              Permission::review, post_unit_event, "UnitEvent", "AgencyRecorded",
              {unknown_unit, unknown_entry, future_date}),
      observes("/lots-in-use", "lotsInUse", "Lots as their sets used, worst first", get_lots_in_use, "LotsInUse"),
      observes("/findings", "findings", "What somebody should look at, newest first", get_findings, "Findings",
               {"state", "household"}),
      records("/findings/state", "noteFinding", "A finding was seen, taken on, or closed with a reason",
              Permission::review, post_finding_state, "FindingState", "Finding", {unknown_finding, outdated}),
      observes("/wear", "wear", "Worn parts: how long they last, and who is due", get_wear, "Wear"),
      observes("/households/{household}/forecast-then", "forecastThen",
               "The forecast of a past moment, with what was known then", get_forecast_then, "Forecast", {"at"},
               {unknown_household}),
  };
}

std::vector<Route> proposal_routes() {
  const auto keep = Permission::keep_profiles;
  auto tries = records("/profiles/read", "readProfile", "What a proposed profile would be; nothing is stored", keep,
                       post_profile_read, "ProfileProposal", "TriedProfile", {});
  tries.runs = Runs::compute;
  tries.keeps = false;
  tries.success = 200;
  auto decides = records("/profile-proposals/{proposal}/decision", "decideProposal",
                         "A second person approves a profile, or refuses it", keep, post_decision, "ProfileDecision",
                         "Proposal", {unknown_profile, own_proposal, effect_not_known, outdated});
  decides.success = 200;
  std::vector<Route> all{
      tries,
      records("/profile-proposals", "proposeProfile", "Proposes a profile", keep, post_proposal, "ProfileProposal",
              "Proposal", {}),
      observes("/profile-proposals", "proposals", "Proposed profiles, newest first", get_proposals, "Proposals",
               {"state"}),
      observes("/profile-proposals/{proposal}", "proposal", "One proposal: residuals, and whose dates it would move",
               get_proposal, "Proposal", {}, {unknown_profile}),
      decides,
      observes("/profile-versions", "profileVersions", "Approved profiles, newest first", get_profile_versions,
               "ProfileVersions"),
  };
  for (Route& route : all) route.needs = keep;
  return all;
}

}  // namespace cellarer::api
