// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/fold.hpp"
#include "server/service/plan_facts.hpp"
#include "server/service/said.hpp"

namespace cellarer::service {

/// Folds what is planned or going on. Admissions and returns pair up by time: a return ends the stay that is open then,
/// a second admission during a stay is the same stay. A return without an admission is kept: somebody was away, and
/// what was said of the cells counts all the same.
class PlanFold {
 public:
  explicit PlanFold(const Said& said) : said_(said) {}

  /// An entry that counts; of other kinds than plans it takes no notice.
  void add(HouseholdRecord& record, const store::StoredEntry& entry, const json::Field& body);

  /// After all entries: the stays in hospital, and the cells with which the wearer came home, added to `changes`.
  ///   fresh           a change of cells at the time given
  ///   not known       cells of unknown age and type, found in the side
  ///   as before       nothing, if it is known whether the unit was used meanwhile: as the settings say, or switched
  ///                   off; else the same cells, of unknown age
  void finish(HouseholdRecord& record, std::vector<NumberedChange>& changes) const;

 private:
  struct Return {
    BackHome home;
    std::int64_t entry = 0;
    Instant recorded_at;
  };

  const Said& said_;
  std::vector<Hospital> admissions_;
  std::vector<Return> returns_;

  void add_found_cells(const Return& back, std::vector<NumberedChange>& changes) const;
};

}  // namespace cellarer::service
