// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "model/quantities/side.hpp"
#include "model/quantities/time.hpp"

/// What people recorded about the cells of one side. Records are facts as told: nothing here is corrected,
/// and contradictions are the model's work.
namespace cellarer::life {

enum class CellAge { fresh, part_used, unknown };

/// The cells put into one side together. Anything may be unknown.
struct CellSet {
  std::optional<std::string> set_id;   ///< names a set that was in before, so that it keeps its state
  std::optional<std::string> profile;  ///< none: type unknown
  std::optional<std::string> lot;
  std::optional<std::chrono::year_month> expires;
  CellAge age = CellAge::fresh;
  bool operator==(const CellSet&) const = default;
};

enum class ChangeReason { planned, warning, ran_out, fault, unknown };

/// A set out, a set in. `reason` says why the old set came out.
struct CellChange {
  Instant at;
  Instant recorded_at;
  Side side = Side::left;
  ChangeReason reason = ChangeReason::planned;
  CellSet cells;
  bool perhaps_the_same = false;  ///< as the change of this side before it (within 12 h, nothing between)
  bool operator==(const CellChange&) const = default;
};

enum class Condition { pacing, idle, just_on, off };

struct PercentShown {
  double percent;
  bool operator==(const PercentShown&) const = default;
};  ///< 0 to 100
struct StepShown {
  int step;
  int of;
  bool operator==(const StepShown&) const = default;
};  ///< 0 to `of`
struct SetVolts {
  double volts;
  bool operator==(const SetVolts&) const = default;
};  ///< of the whole set
struct CellVolts {
  std::vector<double> volts;
  bool operator==(const CellVolts&) const = default;
};  ///< of each cell
struct WarningSounded {
  bool operator==(const WarningSounded&) const = default;
};  ///< the unit's own low-charge warning
struct SideStopped {
  bool operator==(const SideStopped&) const = default;
};  ///< this side no longer paces

struct Reading {
  Instant at;
  Instant recorded_at;
  Side side = Side::left;
  Condition condition = Condition::pacing;
  std::variant<PercentShown, StepShown, SetVolts, CellVolts, WarningSounded, SideStopped> value;
  bool operator==(const Reading&) const = default;
};

}  // namespace cellarer::life
