// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <string>

#include <Eigen/Core>

#include "model/cell/curve.hpp"
#include "model/cell/published.hpp"

/// The family of curves that alkaline cells draw, and what is known of it before a cell is fitted.
///
///     U(x)  = u_0 - integral from 0 to x of exp(s(z)) dz          falls, whatever the parameters
///     R(x)  = R_0 exp(integral from 0 to x of exp(g(z)) dz)       rises, whatever the parameters
///     R_fast(x) = R_f sqrt(R(x) / R_0), at most 0.9 R(x);   R_slow = R - R_fast
///
/// s and g are linear between knots of depth. So every point of the parameter space is a curve that a cell
/// could have, U never rises, R never falls, and a prior can be a plain multivariate normal.
///
///   Q      capacity as the current goes to nought [mAh]        u_0   open-circuit voltage, fresh [V]
///   R_0    total resistance, fresh [ohm]                       R_f   of it ohmic and charge transfer [ohm]
///   s      log of the fall of U [ln V per unit of depth]       g     log of the relative growth of R
///   fixture   contacts and leads of the source's set-up [ohm], 0 to 0.2, not part of the cell
///   tau    time constant with which the slow voltage follows the current [min]
///
/// The growth of R towards the end by more than one power of ten is what makes 25 mA reach 3000 mAh and 1 A
/// only 900 from one curve: a rest voltage of 1.1 V remains when the cell is spent (Texas Instruments
/// SLVA194), and the resistance is then some ohms (LT1304 data sheet, page 9).
namespace cellarer::cell {

inline constexpr std::array<double, 9> fall_knots{0, 0.02, 0.06, 0.15, 0.3, 0.5, 0.7, 0.85, 1};
inline constexpr std::array<double, 8> growth_knots{0, 0.1, 0.25, 0.4, 0.55, 0.7, 0.85, 1};

/// Places in the parameter vector.
enum Parameter : int {
  log_capacity,  ///< ln mAh
  fresh_V,
  log_fresh_ohm,                                                ///< ln ohm
  log_fall,                                                     ///< nine of them
  log_growth = log_fall + static_cast<int>(fall_knots.size()),  ///< eight
  fixture_ohm = log_growth + static_cast<int>(growth_knots.size()),
  log_fast_ohm,  ///< ln ohm
  log_tau_min,   ///< ln min
  parameter_count
};
using Parameters = Eigen::Matrix<double, parameter_count, 1>;
using Covariance = Eigen::Matrix<double, parameter_count, parameter_count>;

/// What is known before: a normal distribution of the parameters among the cells of a family.
struct FamilyPrior {
  Parameters mean;
  Covariance covariance;
};

Curve curve_of(const Parameters& parameters);

/// "fixture [ohm]", "ln growth at 0.25": for reports.
std::string name_of_parameter(int index);

/// Wide prior from physics and literature alone, from which `learn.hpp` starts.
FamilyPrior vague_lr6_prior();

/// Learned from the cells of data/cells; printed by `cellarer fit data/cells --prior`, which a test repeats.
FamilyPrior lr6_prior();

/// Prior of a designation. LR6: `lr6_prior`. Other round alkaline cells (LR03, LR14, LR20 ...): the same
/// shapes, with the capacity of the size and resistances in inverse proportion, both held loosely. Any other:
/// capacity from `hint_mAh` (a figure from the file) held very loosely.
FamilyPrior prior_for(const std::string& designation, double hint_mAh);

/// The prior with what is known of this source's fixture: the file's own figure within 0.015 ohm, else 0.10 for a
/// measured cell (holder and contacts; the four measured sources of data/cells have 0.02 to 0.15) and 0.01 for
/// a maker's figures (four wires, IEC 60086-1), held loosely.
FamilyPrior with_fixture(FamilyPrior prior, const Source& source);

/// Whether the curve's form is known to hold for this designation: alkaline manganese, "LR..." (IEC 60086-1).
bool is_alkaline(const std::string& designation);

/// Rechargeable systems by their letters (IEC 61951, IEC 61960): HR, KR, ZR, ICR, IFR and the like. They are
/// kept as a record of what is in a side and have no forecast.
bool is_rechargeable(const std::string& designation);

}  // namespace cellarer::cell
