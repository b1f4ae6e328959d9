// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/cell/profile.hpp"

/// What has been published, or measured, about one type of cell: discharges, each at one load to one
/// cut-off voltage. Read from `data/cells/*.json` by `server/profiles/cell_file.hpp`; fitted by `fit.hpp`.
namespace cellarer::cell {

enum class LoadKind { current, resistance, power };

/// What the cell feeds: a current [mA], a resistance [ohm] or a power [mW], one cell's worth.
struct Load {
  LoadKind kind = LoadKind::current;
  double value = 0;
};

/// Switched on for `on_s` seconds at the start of each `period_s`.
struct Regimen {
  double on_s = 0;
  double period_s = 0;
};

/// One published discharge. Exactly one of `hours` (under load: pauses of a regimen do not count) and
/// `capacity_mAh` (delivered) is given.
struct Discharge {
  Load load;
  double cutoff_V = 0;
  std::optional<double> hours;
  std::optional<double> capacity_mAh;
  double temperature_C = 21;
  std::optional<Regimen> regimen;  ///< none: continuous
  std::string specimen;            ///< tells the cells of one measured brand apart; may be empty
};

/// How a figure was come by, which says how far it is trusted.
enum class Basis { data_sheet, measured, chart_reading, memory };

struct Source {
  std::string title;
  std::string publisher;
  std::optional<int> year;
  Basis basis = Basis::memory;
  std::optional<double> fixture_ohm;  ///< of holder, contacts and leads, where someone has estimated it; 0 to 0.2
};

struct PublishedCell {
  std::string id;
  std::string designation;  ///< "LR6"
  std::string brand;        ///< the id where the file names none; files of one brand are left out together
  double nominal_V = 1.5;
  Source source;
  std::vector<Discharge> discharges;
  std::optional<Spread> spread;  ///< given by a family profile, else the measured spread of the family
  bool family = false;           ///< made from other brands: is not learned from, and is not scored
};

}  // namespace cellarer::cell
