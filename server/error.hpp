// SPDX-License-Identifier: MIT
#pragma once
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

/// What the API answers when it does not do what was asked: RFC 9457 problems with stable names.
namespace cellarer {

enum class ProblemCode {
  bad_request,
  not_json,
  missing,
  wrong_type,
  out_of_range,
  too_long,
  missing_key,
  key_reused,
  unknown_household,
  unknown_entry,
  unknown_profile,
  unknown_round,
  household_exists,
  already_voided,
  cannot_be_voided,
  nothing_to_answer,
  nothing_to_end,
  import_refused,
  unknown_lot,
  already_recalled,
  not_recalled,
  lot_recalled,
  future_date,
  no_forecast_yet,
  not_signed_in,
  not_allowed,
  outside_hours,
  cross_site,
  unknown_account,
  unknown_finding,
  unknown_unit,
  own_proposal,
  effect_not_known,
  agency_exists,
  outdated,
  unknown_feed,
  not_offered,
  invitation_used_or_over,
  too_many_attempts,
  clock_behind,
  not_found,
  method_not_allowed,
  request_timeout,
  body_too_large,
  target_too_long,
  header_too_large,
  unsupported_media_type,
  busy,
  store_unavailable,
  internal
};

struct ProblemKind {
  ProblemCode code;
  const char* name;   ///< in the type URI: /problems/<name>
  int status;         ///< of HTTP
  const char* title;  ///< the same for every occurrence
};

const std::vector<ProblemKind>& problem_kinds();
const ProblemKind& kind_of(ProblemCode code);
/// The kind of that wire name; `out_of_range` for a name that is not in the table.
const ProblemKind& kind_named(std::string_view name);

struct FieldError {
  std::string place;  ///< JSON pointer into the body
  std::string code;
  std::string reason;  ///< says what would be right
};

/// Thrown by use cases and routes, caught by the dispatcher alone, which makes it the answer.
class Problem : public std::runtime_error {
 public:
  Problem(ProblemCode code, const std::string& detail, std::vector<FieldError> errors = {})
      : std::runtime_error(detail), code_(code), errors_(std::move(errors)) {}
  ProblemCode code() const { return code_; }
  const std::vector<FieldError>& errors() const { return errors_; }
  nlohmann::json more = nlohmann::json::object();  ///< further members of the document

 private:
  ProblemCode code_;
  std::vector<FieldError> errors_;
};

/// The document of a problem, as application/problem+json.
nlohmann::json problem_document(const Problem& problem);

}  // namespace cellarer
