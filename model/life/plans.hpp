// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <optional>
#include <vector>

#include "model/quantities/side.hpp"
#include "model/quantities/time.hpp"

/// What is planned, or going on, beside settings and pacing (model/duty/settings.hpp): what people said of it.
namespace cellarer::life {

/// A visit to which one side comes with fresh cells.
struct Visit {
  Side side = Side::left;
  Instant at;
};

/// Days away from home, perhaps in another zone and with other changing times.
struct Stay {
  Instant from, to;
  Zone zone = nullptr;                               ///< null: that of the household
  std::vector<std::chrono::minutes> changing_times;  ///< of the day; none: those of the household
  bool operator==(const Stay&) const = default;
};

/// After coming home: as it was before, or not, or nobody knows. The last two ask for a record.
enum class SinceHospital { as_before, changed, unknown };

/// The wearer is in hospital and somebody else looks after the unit, until `to` (none: still there).
struct HospitalStay {
  Instant from;
  std::optional<Instant> to;
  SinceHospital settings = SinceHospital::unknown, unit = SinceHospital::unknown;
  bool operator==(const HospitalStay&) const = default;
};

}  // namespace cellarer::life
