// SPDX-License-Identifier: MIT
#include "server/error.hpp"

#include <cassert>

namespace cellarer {

const std::vector<ProblemKind>& problem_kinds() {
  using enum ProblemCode;
  static const std::vector<ProblemKind> kinds{
      {bad_request, "bad-request", 400, "The request cannot be read"},
      {not_json, "not-json", 400, "The body is not JSON"},
      {missing, "missing", 422, "A required field is missing"},
      {wrong_type, "wrong-type", 422, "A field is of the wrong type"},
      {out_of_range, "out-of-range", 422, "A field is outside its range"},
      {too_long, "too-long", 422, "A field is too long"},
      {missing_key, "missing-key", 400, "A write needs an Idempotency-Key"},
      {key_reused, "key-reused", 422, "This Idempotency-Key was used for something else"},
      {unknown_household, "unknown-household", 404, "There is no such household"},
      {unknown_entry, "unknown-entry", 404, "There is no such entry"},
      {unknown_profile, "unknown-profile", 404, "There is no such profile"},
      {unknown_round, "unknown-round", 404, "There is no such round"},
      {household_exists, "household-exists", 409, "This household is there already"},
      {already_voided, "already-voided", 409, "This entry is voided already"},
      {cannot_be_voided, "cannot-be-voided", 409, "An entry of this kind cannot be voided"},
      {nothing_to_answer, "nothing-to-answer", 409, "Nothing is asked about this entry"},
      {nothing_to_end, "nothing-to-end", 409, "An entry of this kind does not end"},
      {import_refused, "import-refused", 422, "Something in these tables cannot be taken"},
      {unknown_lot, "unknown-lot", 404, "Nobody has recorded this lot"},
      {already_recalled, "already-recalled", 409, "This lot is recalled already"},
      {not_recalled, "not-recalled", 409, "This lot is not recalled"},
      {lot_recalled, "lot-recalled", 409, "A recalled lot is on this round"},
      {future_date, "future-date", 409, "This lies in the future: is the date right?"},
      {no_forecast_yet, "no-forecast-yet", 503, "The forecast could not be computed"},
      {not_signed_in, "not-signed-in", 401, "Nobody is signed in here"},
      {not_allowed, "not-allowed", 403, "This is not yours to do"},
      {outside_hours, "outside-hours", 403, "This phone has set hours"},
      {cross_site, "cross-site", 403, "The request came from another site's page"},
      {unknown_account, "unknown-account", 404, "There is no such account"},
      {unknown_finding, "unknown-finding", 404, "There is no such finding"},
      {unknown_unit, "unknown-unit", 404, "There is no such unit"},
      {own_proposal, "own-proposal", 403, "Nobody approves what they proposed"},
      {effect_not_known, "effect-not-known", 409, "Whose dates this moves is not known yet"},
      {agency_exists, "agency-exists", 409, "This agency is there already"},
      {outdated, "outdated", 409, "Somebody else was first"},
      {unknown_feed, "unknown-feed", 404, "There is no such address"},
      {not_offered, "not-offered", 409, "This is not to be had here"},
      {invitation_used_or_over, "invitation-used-or-over", 410, "This invitation was used, or is over"},
      {too_many_attempts, "too-many-attempts", 429, "Too many attempts to sign in"},
      {clock_behind, "clock-behind", 503, "The service's clock is wrong, or was"},
      {not_found, "not-found", 404, "There is nothing at this address"},
      {method_not_allowed, "method-not-allowed", 405, "This address does not take that method"},
      {request_timeout, "request-timeout", 408, "The request took too long to arrive"},
      {body_too_large, "body-too-large", 413, "The body is larger than this service takes"},
      {target_too_long, "target-too-long", 414, "The address is longer than this service takes"},
      {header_too_large, "header-too-large", 431, "The header is larger than this service takes"},
      {unsupported_media_type, "unsupported-media-type", 415, "The body must be application/json"},
      {busy, "busy", 503, "The service is busy"},
      {store_unavailable, "store-unavailable", 503, "The record could not be kept"},
      {internal, "internal", 500, "Something went wrong here"},
  };
  return kinds;
}

const ProblemKind& kind_of(ProblemCode code) {
  const ProblemKind& kind = problem_kinds().at(static_cast<std::size_t>(code));
  assert(kind.code == code);
  return kind;
}

const ProblemKind& kind_named(std::string_view name) {
  for (const ProblemKind& kind : problem_kinds()) {
    if (name == kind.name) return kind;
  }
  return kind_of(ProblemCode::out_of_range);
}

nlohmann::json problem_document(const Problem& problem) {
  const ProblemKind& kind = kind_of(problem.code());
  nlohmann::json document = problem.more.is_object() ? problem.more : nlohmann::json::object();
  document["type"] = std::string("/problems/") + kind.name;
  document["title"] = kind.title;
  document["status"] = kind.status;
  document["detail"] = problem.what();
  if (!problem.errors().empty()) {
    auto& errors = document["errors"] = nlohmann::json::array();
    for (const FieldError& error : problem.errors()) {
      errors.push_back({{"place", error.place}, {"code", error.code}, {"reason", error.reason}});
    }
  }
  return document;
}

}  // namespace cellarer
