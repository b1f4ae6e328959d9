// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/cell/curve.hpp"

namespace cellarer::cell {

/// How much cells of one profile differ, as standard deviations of the natural logarithm of capacity
/// (0.02 is 2 %), each of one cell. Sources: the measured spread kept in
/// data/reference/lr6-spread.json; duds are an assumption stated there.
struct Spread {
  double specimen_log_sd = 0.016;     ///< two cells of one brand; a set of n in series has this over sqrt(n)
  double lot_log_sd = 0.015;          ///< shared by all cells of a lot, not reduced by the set's size
  double brand_log_sd = 0.0;          ///< 0 where the brand is known, about 0.065 for a family profile
  double fit_log_sd = 0.0;            ///< of the fit itself, at loads inside its range
  double curve_sd_V = 0.003;          ///< of one cell's voltage about its type's curve in mid-life [V]
  double type_offset_sd_V = 0.0025;   ///< of the type's fitted curve itself, the same for all its sets, one cell [V]
  double curve_tilt_sd_V = 0.009;     ///< of the tilt of one cell's voltage over its life, about its type's curve [V]
  double type_tilt_sd_V = 0.010;      ///< of the tilt of the type's fitted curve itself, one cell [V]
  double curve_form_sd_V = 0.0025;    ///< by which the curve's form is off here and there, one cell [V]
  double curve_charge_log_sd = 0.01;  ///< the same along the charge: what counts where the curve is steep
  double offset_capacity_correlation = 0.2;  ///< cells that lie above their curve last longer
  double dud_fraction = 0.003;               ///< of sets, assumption
  double dud_shortfall = 0.22;               ///< share of its capacity that a dud lacks, over the whole curve
  bool operator==(const Spread&) const = default;
};

/// What the forecast needs to know of a cell type. `usable` is false for cells that are kept as a record
/// of what is in a side but have no forecast (rechargeable ones, an unusable fit).
struct Profile {
  std::string id;
  std::string designation;  ///< as printed by the standard: "LR6"
  Curve curve;
  Spread spread;
  bool usable = true;
  std::string why_not;  ///< when not usable: one sentence
  bool operator==(const Profile&) const = default;
};

}  // namespace cellarer::cell
