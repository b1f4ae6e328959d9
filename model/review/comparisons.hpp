// SPDX-License-Identifier: MIT
#pragma once
#include "model/review/household_review.hpp"

namespace cellarer::review {

/// A difference of mean log ratios: what one group of sets uses more than another, each against its own expectation.
///
///     mean of a group = sum y_i / v_i over sum 1 / v_i,   v_i = set^2 + observation_i^2
///
/// The standard error counts the sets' own spread and the observations; levels that both groups share (household, cell
/// type) cancel. None where a group is empty.
struct Difference {
  double more = 0, standard_error = 0;
  int sets_a = 0, sets_b = 0;
  int sets_between = 0;  ///< of a change: observed ones in which it came about; they are in neither group
  Instant at;            ///< of a change of settings: when it came about; of a unit: when its first set there went in
  std::string subject;   ///< household, or serial: whom it concerns
  Side side = Side::left;
};

/// Left over right, all observed sets.
std::optional<Difference> left_over_right(const HouseholdHistory& history, const Spreads& spreads);

/// After each recorded change of a side's settings over before it: up to `sets` observed ones on either side of it,
/// with the same unit. Should be nought: expectation has followed the record. A set that drew by both settings
/// (SetRecord::drawn_under) was seen as a whole, and readings do not part it: it would pull the difference towards
/// nought from whichever side, so it is left out, and counted.
std::vector<Difference> after_settings_changes(const HouseholdHistory& history, const Spreads& spreads, int sets = 6);

/// A unit in each of its places, over the other units of that place and side (`subject`: the household).
std::vector<Difference> places_of_unit(const Histories& households, const std::string& serial, const Spreads& spreads);
inline std::vector<Difference> places_of_unit(const std::vector<HouseholdHistory>& households,
                                              const std::string& serial, const Spreads& spreads) {
  return places_of_unit(pointers_to(households), serial, spreads);
}

}  // namespace cellarer::review
