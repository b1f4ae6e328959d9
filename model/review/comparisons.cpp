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

/// From set `k` on (or before it, where `step` is -1): those that drew by these settings, in the unit of set `k`.
Group group_from(const std::vector<const SetRecord*>& all, std::size_t k, int step, const duty::Settings& settings,
                 int sets, const Spreads& spreads) {
  Group group;
  const auto count = static_cast<std::ptrdiff_t>(all.size());
  const auto first = static_cast<std::ptrdiff_t>(k) + (step < 0 ? -1 : 0);
  for (auto i = first; i >= 0 && i < count && group.sets() < sets; i += step) {
    const auto& set = *all[static_cast<std::size_t>(i)];
    const auto* under = set.drawn_under();
    if (set.unit == all[k]->unit && under != nullptr && under->from == settings.from) group.add(*set.observed, spreads);
  }
  return group;
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
    const duty::Settings* before = nullptr;
    int between = 0;
    for (std::size_t k = 0; k < all.size(); ++k) {
      const auto* now = all[k]->drawn_under();
      if (now == nullptr) {
        between += all[k]->settings ? 1 : 0;
        continue;
      }
      if (before != nullptr && before->from != now->from) {
        auto found =
            difference(group_from(all, k, 1, *now, sets, spreads), group_from(all, k, -1, *before, sets, spreads));
        if (found) {
          found->sets_between = between;
          found->at = now->from;
          found->side = side;
          found->subject = history.household;
          changes.push_back(*found);
        }
      }
      before = now;
      between = 0;
    }
  }
  return changes;
}

std::vector<Difference> places_of_unit(const Histories& households, const std::string& serial, const Spreads& spreads) {
  std::vector<Difference> places;
  for (const auto* history : households) {
    for (const auto side : both_sides) {
      Group in_it, in_others;
      std::optional<Instant> first;
      for (const auto* record : observed(*history, side)) {
        (record->unit == serial ? in_it : in_others).add(*record->observed, spreads);
        if (record->unit == serial && !first) first = record->from;
      }
      auto found = difference(in_it, in_others);
      if (!found) continue;
      found->at = *first;
      found->side = side;
      found->subject = history->household;
      places.push_back(*found);
    }
  }
  return places;
}

}  // namespace cellarer::review
