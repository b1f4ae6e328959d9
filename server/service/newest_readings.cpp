// SPDX-License-Identifier: MIT
#include "server/service/newest_readings.hpp"

#include <algorithm>

#include "server/json/field.hpp"
#include "server/service/facts.hpp"
#include "server/service/fold.hpp"

namespace cellarer::service {

namespace {

/// After whatever a reading can bear upon: whether a warning was heard between two changes (cell_changes.cpp), and the
/// order of readings.
bool comes_last(const life::Household& life, Instant at) {
  const bool after_changes = std::all_of(life.cell_changes.begin(), life.cell_changes.end(),
                                         [&](const life::CellChange& change) { return change.at < at; });
  return after_changes && (life.readings.empty() || life.readings.back().at <= at);
}

}  // namespace

bool add_newest_readings(HouseholdRecord& record, const std::vector<store::StoredEntry>& entries) {
  for (const store::StoredEntry& entry : entries) {
    if (entry.kind != kind::reading || entry.voided_by) return false;
    const auto document = json::parse(entry.body);
    const auto reading = read_reading(json::Field(document, ""), entry.recorded_at);
    if (!comes_last(record.life, reading.at)) return false;
    record.life.readings.push_back(reading);
    for (BeforeApproval& before : record.before_approval) before.life.readings.push_back(reading);
  }
  return true;
}

}  // namespace cellarer::service
