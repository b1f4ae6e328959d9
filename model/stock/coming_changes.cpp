// SPDX-License-Identifier: MIT
#include "model/stock/coming_changes.hpp"

#include <algorithm>
#include <cassert>

namespace cellarer::stock {
namespace {

/// The day of one change, in each scenario.
class DayOfChange {
 public:
  explicit DayOfChange(const Demand& demand) : demand_(demand) {
    for (const Scenario& scenario : demand.scenarios) of_.push_back(scenario.streams.front().first);
  }

  void go_on() {
    for (std::size_t k = 0; k < of_.size(); ++k) of_[k] = next_use(of_[k], demand_.scenarios[k].streams.front().next);
  }

  void set_to(int day) {
    for (DayPmf& pmf : of_) {
      std::fill(pmf.begin(), pmf.end(), 0.0);
      pmf[static_cast<std::size_t>(day)] = 1;
    }
  }

  ComingChange middle(double share) const {
    std::vector<double> by_day(static_cast<std::size_t>(demand_.days));
    double sum = 0;
    for (std::size_t day = 0; day < by_day.size(); ++day) {
      for (std::size_t k = 0; k < of_.size(); ++k) sum += demand_.scenarios[k].weight * of_[k][day];
      by_day[day] = sum;
    }
    const double left_out = (1 - share) / 2;
    const auto day_of = [&](double level) { return first_day_reaching(by_day, level); };
    return {day_of(left_out), day_of(0.5), std::min(day_of(1 - left_out), demand_.days - 1)};
  }

 private:
  const Demand& demand_;
  std::vector<DayPmf> of_;
};

}  // namespace

std::vector<ComingChange> coming_changes(const SideOutlook& side, const ChangeHabit& habit,
                                         const std::vector<int>& visit_days, const ComingWeeks& weeks) {
  assert(side.change_by_day >= 0 && weeks.days >= 1 && weeks.most >= 1 && weeks.share > 0 && weeks.share < 1);
  assert(std::is_sorted(visit_days.begin(), visit_days.end()));
  if (side.change_by_day >= weeks.days) return {};
  const Demand demand = cells_demand({side}, habit, 1, 2 * weeks.days);
  DayOfChange day(demand);
  auto visit = std::upper_bound(visit_days.begin(), visit_days.end(), side.change_by_day);
  const int first = side.change_by_day;
  std::vector<ComingChange> changes{{std::min(day.middle(weeks.share).earliest_day, first), first, first}};
  while (static_cast<int>(changes.size()) < weeks.most) {
    day.go_on();
    ComingChange next = day.middle(weeks.share);
    next.likely_day = std::max(next.likely_day, changes.back().likely_day + 1);
    next.latest_day = std::max(next.latest_day, next.likely_day);
    const bool for_visit = visit != visit_days.end() && *visit <= next.likely_day;
    if (for_visit) next = {*visit, *visit, *visit};
    if (next.likely_day >= weeks.days) break;
    if (for_visit) {
      day.set_to(next.likely_day);
      visit = std::upper_bound(visit, visit_days.end(), next.likely_day);
    }
    changes.push_back(next);
  }
  return changes;
}

}  // namespace cellarer::stock
