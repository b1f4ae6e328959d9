// SPDX-License-Identifier: MIT
#pragma once
#include "model/review/household_review.hpp"

namespace cellarer::review {

/// One lot or unit seen across households (shared_effects.hpp), pooled partially: few sets move it little.
///
/// `bad` is the probability of being short (or drawing too much) rather than within the natural spread. What is said of
/// it weighs both stories by that: in the one it varies as such things do, in the other a fault of unknown size comes
/// on top. Each home's baseline and its uncertainty are integrated out, so a home that had the lot from its first day
/// tells little of it.
struct Pooled {
  std::string subject;
  int sets = 0, households = 0;
  double raw = 0, raw_se = 0;        ///< each side's own baseline taken off, nothing pooled
  double pooled = 0, pooled_sd = 0;  ///< log use more than expected, as believed: mean and standard deviation
  Size if_bad;                       ///< the same, if there is a fault
  Scope scope = Scope::both;         ///< of the fault that is the likeliest
  double bad = 0;
  Instant first, last;               ///< when the first of its sets came out, and the last
  std::optional<Instant> raised_at;  ///< when the evidence was first enough
  bool stands = false;               ///< raised, and the evidence has not faded since
  std::vector<std::string> homes;    ///< households that hold or held it
};

struct AgencyReview {
  std::vector<Finding> findings;  ///< of households, lots and units, by when they were raised
  std::vector<Pooled> lots;       ///< every noted lot, worst first
  std::vector<Pooled> units;      ///< every unit, worst first
};

/// The review of all households together. Lots and units that were in several homes are judged by all of them; what is
/// found of them weighs in each home's causes. A lot is never condemned by fewer than four sets in two homes.
AgencyReview review_agency(const Histories& households, const ReviewOptions& options);
inline AgencyReview review_agency(const std::vector<HouseholdHistory>& households, const ReviewOptions& options) {
  return review_agency(pointers_to(households), options);
}

/// Its lots alone, which need none of the homes' findings: a lot's is the same whichever other homes, that never had
/// it, are among them.
std::vector<Pooled> review_lots(const Histories& households, const ReviewOptions& options);

}  // namespace cellarer::review
