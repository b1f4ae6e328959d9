// SPDX-License-Identifier: MIT
#include "model/review/comparisons.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::review {

namespace {

class Group {
 public:
  void add(const ObservedUse& seen, const Spreads& spreads) {
    const double error = std::max(seen.standard_error, spreads.observation_at_least);
    const double weight = 1 / (spreads.set * spreads.set + error * error);
    weight_ += weight;
    sum_ += weight * seen.log_ratio;
    ++sets_;
  }
  int sets() const { return sets_; }
  double mean() const { return sum_ / weight_; }
  double variance() const { return 1 / weight_; }

 private:
  double weight_ = 0, sum_ = 0;
  int sets_ = 0;
};

std::optional<Difference> difference(const Group& a, const Group& b) {
  if (a.sets() == 0 || b.sets() == 0) return std::nullopt;
  Difference difference;
  difference.more = a.mean() - b.mean();
  difference.standard_error = std::sqrt(a.variance() + b.variance());
  difference.sets_a = a.sets();
  difference.sets_b = b.sets();
  return difference;
}

std::vector<const SetRecord*> observed(const HouseholdHistory& history, Side side) {
  std::vector<const SetRecord*> chosen;
  for (const auto& record : history.records) {
    if (record.side == side && record.observed) chosen.push_back(&record);
  }
  std::stable_sort(chosen.begin(), chosen.end(), [](const auto* a, const auto* b) { return a->from < b->from; });
  return chosen;
}

}  // namespace

std::optional<Difference> left_over_right(const HouseholdHistory& history, const Spreads& spreads) {
  Group left, right;
  for (const auto& record : history.records) {
    if (record.observed) (record.side == Side::left ? left : right).add(*record.observed, spreads);
  }
  auto found = difference(left, right);
  if (found) found->subject = history.household;
  return found;
}

std::vector<Difference> after_settings_changes(const HouseholdHistory& history, const Spreads& spreads, int sets) {
  std::vector<Difference> changes;
  for (const auto side : both_sides) {
    const auto all = observed(history, side);
    for (std::size_t k = 1; k < all.size(); ++k) {
      const auto &before = *all[k - 1], &after = *all[k];
      if (!before.settings || !after.settings || before.settings->from == after.settings->from) continue;
      Group old_ones, new_ones;
      for (std::size_t i = k; i-- > 0 && old_ones.sets() < sets;) {
        if (all[i]->unit == after.unit && all[i]->settings && all[i]->settings->from == before.settings->from)
          old_ones.add(*all[i]->observed, spreads);
      }
      for (std::size_t i = k; i < all.size() && new_ones.sets() < sets; ++i) {
        if (all[i]->unit == after.unit && all[i]->settings && all[i]->settings->from == after.settings->from)
          new_ones.add(*all[i]->observed, spreads);
      }
      auto found = difference(new_ones, old_ones);
      if (!found) continue;
      found->at = after.from;
      found->side = side;
      found->subject = history.household;
      changes.push_back(*found);
    }
  }
  return changes;
}

std::vector<Difference> places_of_unit(const std::vector<HouseholdHistory>& households, const std::string& serial,
                                       const Spreads& spreads) {
  std::vector<Difference> places;
  for (const auto& history : households) {
    for (const auto side : both_sides) {
      Group in_it, in_others;
      std::optional<Instant> first;
      for (const auto* record : observed(history, side)) {
        (record->unit == serial ? in_it : in_others).add(*record->observed, spreads);
        if (record->unit == serial && !first) first = record->from;
      }
      auto found = difference(in_it, in_others);
      if (!found) continue;
      found->at = *first;
      found->side = side;
      found->subject = history.household;
      places.push_back(*found);
    }
  }
  return places;
}

}  // namespace cellarer::review
