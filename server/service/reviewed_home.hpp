// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "model/review/household_review.hpp"
#include "model/review/worn_parts.hpp"
#include "server/service/household_service.hpp"

/// What the technician's review keeps of one household: its finished sets with observed and expected use, its units and
/// their faults, its worn parts, and what was noted of its findings. It is a function of the household's entries and of
/// the moment; renewed when entries change (review_book.hpp).
namespace cellarer::service {

/// A unit in a home, from one record on; until when is known only together with other homes and the workshop.
struct UnitStay {
  std::string serial, stimulator;
  Instant from;
  bool spare = false;
  int sets = 0;  ///< that came out of it in this home, all told at its first stay there
};

/// Cells were changed because of a fault, or a side stopped.
struct UnitFault {
  std::string serial;  ///< of the unit in use then; may be empty
  Side side = Side::left;
  Instant at;
  bool stopped = false;
};

/// What tells where units are, and how old a review is: a few hundred bytes, kept of homes whose sets are not.
struct HomeOutline {
  std::string reference;        ///< the agency's, bare
  std::int64_t last_entry = 0;  ///< as of which it was made
  std::vector<UnitStay> units;
  std::vector<UnitFault> faults;
};

struct ReviewedHome : HomeOutline {
  Common agency;      ///< what it was given of the agency's homes
  Profiles profiles;  ///< with which its entries were read
  Lots lots;          ///< the same: numbers that were corrected
  Zone zone = nullptr;
  review::HouseholdHistory history;  ///< records by when they came out; checks; what was settled
  std::vector<review::PartService> parts;
  std::vector<CheckFact> checks;  ///< as recorded, in the order of `history.checks`
  std::vector<FindingNote> notes;
};

/// Whether it is made from what the snapshot is: nothing that it depends on has changed since.
bool is_as_of(const ReviewedHome& home, const Snapshot& snapshot);
/// The same, told without reading the household.
bool is_as_of(const ReviewedHome& home, std::int64_t last_entry, const Common& agency, const Profiles& profiles,
              const Lots& lots);

ReviewedHome reviewed_home(const Snapshot& snapshot, const std::string& reference, Instant now);

/// Hours of pacing a day by these settings, over the week from their start.
double hours_per_day(const duty::Settings& settings, Zone zone);

/// Whether a finding of this id is about the use of a side (finding.hpp).
bool concerns_use(const std::string& finding_id);

}  // namespace cellarer::service
