// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <map>

#include "model/review/finding.hpp"

namespace cellarer::review {

/// What is kept of one household.
struct HouseholdHistory {
  std::string household;
  std::vector<SetRecord> records;  ///< of both sides, any order
  std::vector<Check> checks;
  std::vector<Settled> settled;
};

/// Histories that somebody else keeps.
using Histories = std::vector<const HouseholdHistory*>;
inline Histories pointers_to(const std::vector<HouseholdHistory>& households) {
  Histories pointers;
  for (const auto& household : households) pointers.push_back(&household);
  return pointers;
}

/// What other households' sets say of a lot or a unit that this one has too, by the Scope of the fault.
using SumsByScope = std::array<Sums, 3>;
struct OutsideEvidence {
  std::map<std::string, SumsByScope> lots, units;
};

/// Findings about the use of a household's sides, by when they were raised; ended ones too. All stories
/// (hypotheses.hpp) are weighed against "nothing is wrong" after each set, as if the review had been held then, so the
/// answer does not depend on how often anyone asks. Whether something is wrong is judged by this household's rows
/// alone; what the cause is, with what other households say.
///
/// A second fault is looked for beside the first, which then counts as settled from its start on; three at most.
/// Cost: rows^2 times stories, about ten milliseconds for sixty sets.
std::vector<Finding> review_household(const HouseholdHistory& history, const OutsideEvidence& outside,
                                      const ReviewOptions& options);

/// Name of a fault of use in an id: "use/h-000123/left/2026-03-01T21:30:00Z".
std::string finding_id(const std::string& family, const std::string& subject, Instant raised_at);

}  // namespace cellarer::review
