// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/duty/settings.hpp"
#include "model/life/records.hpp"

/// Why does this side use more than it should? Finished sets, what is odd about them, and what may be the cause.
/// Begin with this file, then effects.hpp (how sets resemble each other), hypotheses.hpp (what may have happened),
/// household_review.hpp and agency_review.hpp (what was found).
namespace cellarer::review {

/// What a finished set's readings and its end say of its use, on the log scale:
///
///     log_ratio = ln(use seen / use expected) + bias_loading * (points that the gauge shows too much) + error
///
/// Both uses are charge drawn to reach the same depth by the same cell type's curve, so sets are compared at equal
/// depth and within a type; 0.05 is 5 % more than the profile says for the settings in force.
struct ObservedUse {
  double log_ratio = 0;
  double standard_error = 0.03;  ///< of the observation alone: readings, capacity, curve. Not the set's own spread.
  double bias_loading = 0;       ///< per point of percent; negative for a gauge, 0 for a voltmeter or a run-out
  double depth = 0;              ///< share of the set's charge to cut-off that it had given when it came out, 0 to 1
  int readings = 0;              ///< that were taken in
};

/// A side's settings changed while a set was in.
struct SettingsChange {
  duty::Settings to;
  double share_before = 0;  ///< of the set's expected charge, drawn by then: 0 to 1
};

/// One finished set as the review sees it. Times are when it went in and came out.
struct SetRecord {
  std::string household;
  Side side = Side::left;
  Instant from, to;
  std::string unit;        ///< serial number of the unit it was in
  std::string stimulator;  ///< the unit's model (profile id)
  std::string cell_type;   ///< profile id; empty: not recorded
  std::string lot;         ///< empty: not recorded
  life::ChangeReason ended = life::ChangeReason::unknown;
  std::optional<duty::Settings> settings;  ///< in force when it went in
  std::vector<SettingsChange> changes;     ///< of its settings while it was in, by time
  double expected_mAh = 0;                 ///< reference charge by settings, spans and profile over its time
  double exponent_loading = 0;             ///< d ln(current) / d(amplitude's exponent): how settings far from the
                                           ///< reference amplitude feel an error of the profile
  std::optional<ObservedUse> observed;     ///< none: nothing was read that says how much it was used

  /// Mean current that was expected [mA].
  double expected_mA() const { return expected_mAh / hours_between(from, to); }

  /// The settings in force when it came out; null: not known.
  const duty::Settings* settings_at_end() const;
  /// The settings by which it drew nearly all of its charge. Null: they are not known, or it drew by several, and what
  /// was seen of its use as a whole cannot be put down to one of them.
  const duty::Settings* drawn_under() const;
};

}  // namespace cellarer::review
