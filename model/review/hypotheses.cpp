// SPDX-License-Identifier: MIT
#include "model/review/hypotheses.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>

namespace cellarer::review {

namespace {

constexpr double ramp_days = 90;

/// What one unit of a fault's size adds to a row; the row is known to be within its time.
using Loading = std::function<double(const Row&)>;

/// Shares of the lasting faults. Assumptions: where nothing tells causes apart, nothing may be named.
constexpr double share_settings_side = 0.22, share_settings_both = 0.06, share_unit_side = 0.16, share_unit_both = 0.08,
                 share_cells = 0.16, share_habit = 0.10, share_gauge = 0.12, share_drift = 0.10;

double touches(const Row& row, Scope scope, std::optional<Check::What> shown_by) {
  if (!in_scope(row.side, scope)) return 0;
  return !row.check || row.check == shown_by ? 1 : 0;
}

class Stories {
 public:
  Stories(const std::vector<Row>& rows, const Priors& priors) : rows_(rows), priors_(priors) {}

  void add(Hypothesis hypothesis, double prior, const Loading& loading) {
    const auto count = static_cast<Eigen::Index>(rows_.size());
    hypothesis.pattern = Eigen::VectorXd::Zero(count);
    const auto& first = rows_[static_cast<std::size_t>(hypothesis.start)];
    Eigen::Index touched = 0;
    for (Eigen::Index i = hypothesis.start; i < count; ++i) {
      const auto& row = rows_[static_cast<std::size_t>(i)];
      double amount = loading(row);
      if (hypothesis.shape == Shape::drift) amount *= hours_between(first.from, row.at) / 24 / ramp_days;
      hypothesis.pattern[i] = amount;
      touched += amount != 0 && !row.check ? 1 : 0;
    }
    if (touched == 0 || prior <= 0) return;
    hypothesis.log_prior = std::log(prior);
    all_.push_back(std::move(hypothesis));
  }

  /// More use or less, with the same pattern.
  void add_both_ways(const Hypothesis& hypothesis, const Size& size, double prior, const Loading& loading) {
    auto more = hypothesis, less = hypothesis;
    more.size = size;
    less.size = {-size.mean, size.sd};
    add(more, prior * priors_.more, loading);
    add(less, prior * (1 - priors_.more), loading);
  }

  std::vector<Hypothesis> take() { return std::move(all_); }

 private:
  const std::vector<Row>& rows_;
  const Priors& priors_;
  std::vector<Hypothesis> all_;
};

Loading by_settings(Scope scope) {
  return [scope](const Row& row) { return touches(row, scope, Check::What::settings_read); };
}
Loading by_unit(Scope scope, const std::string& unit) {
  return
      [scope, unit](const Row& row) { return row.unit == unit ? touches(row, scope, Check::What::bench_current) : 0; };
}
Loading by_habit() {
  return [](const Row& row) { return touches(row, Scope::both, Check::What::hours_noted); };
}
Loading by_lot(const std::string& lot) {
  return [lot](const Row& row) { return !row.check && row.lot == lot ? 1 : 0; };
}
/// A gauge that shows too little: its bias is negative, and the sign of the size is of use seen too high.
Loading by_gauge(Scope scope, const std::string& unit) {
  return [scope, unit](const Row& row) {
    return row.unit == unit && !row.check && in_scope(row.side, scope) ? -row.bias_loading : 0;
  };
}

/// What may begin with one set: everything that lasts.
void begin_with(Stories& stories, const Row& row, Eigen::Index start, const Priors& priors) {
  const Scope side = row.side == Side::left ? Scope::left : Scope::right;
  const double prior = priors.per_set;
  for (const auto shape : {Shape::step, Shape::drift}) {
    const double share = prior * (shape == Shape::step ? 1 - share_drift : share_drift);
    const auto story = [&](Cause cause, Scope scope, const std::string& subject = "") {
      return Hypothesis{cause, shape, scope, subject, start, {}, 0, {}};
    };
    const auto& fault = priors.fault;
    stories.add_both_ways(story(Cause::settings, side), fault, share * share_settings_side, by_settings(side));
    stories.add_both_ways(story(Cause::settings, Scope::both), fault, share * share_settings_both,
                          by_settings(Scope::both));
    stories.add_both_ways(story(Cause::habit, Scope::both), fault, share * share_habit, by_habit());
    if (row.unit.empty()) continue;
    stories.add_both_ways(story(Cause::unit, side, row.unit), fault, share * share_unit_side, by_unit(side, row.unit));
    stories.add_both_ways(story(Cause::unit, Scope::both, row.unit), fault, share * share_unit_both,
                          by_unit(Scope::both, row.unit));
    stories.add_both_ways(story(Cause::gauge, side, row.unit), priors.bias, share * share_gauge,
                          by_gauge(side, row.unit));
  }
}

/// Lots: each noted one as a whole; those not noted from any set on.
void blame_cells(Stories& stories, const std::vector<Row>& rows, const Priors& priors) {
  std::set<std::string> begun;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& row = rows[i];
    if (row.check || (!row.lot.empty() && !begun.insert(row.lot).second)) continue;
    Hypothesis story{Cause::cells, Shape::step, Scope::both, row.lot, static_cast<Eigen::Index>(i), {}, 0, {}};
    stories.add_both_ways(story, priors.fault, priors.per_set * share_cells, by_lot(row.lot));
  }
}

/// A set that drew by the old settings and by the new feels that the new were not set by its part alone.
using Parts = std::map<const Row*, double>;

Loading by_settings_in_part(Scope scope, Parts parts) {
  return [scope, parts = std::move(parts)](const Row& row) {
    const auto part = parts.find(&row);
    return touches(row, scope, Check::What::settings_read) * (part == parts.end() ? 1 : part->second);
  };
}

/// Settings that were recorded and do not show: the ratio moves by just what the record says it should not.
void blame_records(Stories& stories, const std::vector<Row>& rows, const std::vector<SetRecord>& records,
                   const Priors& priors) {
  constexpr double least_change = 0.03, reading_off_sd = 0.015;
  for (const auto side : both_sides) {
    const Scope scope = side == Side::left ? Scope::left : Scope::right;
    const SetRecord* before = nullptr;
    std::vector<std::size_t> between;  // sets in which they changed
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (rows[i].check || rows[i].side != side) continue;
      const auto& record = records[rows[i].record];
      if (!record.settings || record.expected_mAh <= 0) continue;
      if (record.drawn_under() == nullptr) {
        between.push_back(i);
        continue;
      }
      if (before != nullptr && before->drawn_under()->from != record.drawn_under()->from) {
        const double change = std::log(record.expected_mA() / before->expected_mA());
        Parts parts;
        for (const auto one : between) {
          const double moved = std::log(records[rows[one].record].expected_mA() / before->expected_mA());
          parts[&rows[one]] = std::clamp(moved / change, 0.0, 1.0);
        }
        const auto start = static_cast<Eigen::Index>(between.empty() ? i : between.front());
        Hypothesis story{Cause::settings, Shape::step, scope, "", start, {-change, reading_off_sd}, 0, {}};
        if (std::abs(change) >= least_change)
          stories.add(story, priors.not_set, by_settings_in_part(scope, std::move(parts)));
      }
      before = &record;
      between.clear();
    }
  }
}

}  // namespace

bool in_scope(Side side, Scope scope) { return scope == Scope::both || (scope == Scope::left) == (side == Side::left); }

std::vector<Hypothesis> hypotheses(const std::vector<Row>& rows, const std::vector<SetRecord>& records,
                                   const Priors& priors) {
  Stories stories(rows, priors);
  std::set<Side> seen;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& row = rows[i];
    if (row.check) continue;
    const auto start = static_cast<Eigen::Index>(i);
    const Scope side = row.side == Side::left ? Scope::left : Scope::right;
    // From a side's first set on it is a level: nothing of that side came before that it could differ from.
    const bool first = seen.insert(row.side).second;
    if (!first) begin_with(stories, row, start, priors);
    if (first) {
      for (const auto cause : {Cause::settings, Cause::unit}) {
        if (cause == Cause::unit && row.unit.empty()) continue;
        const Hypothesis story{cause, Shape::level, side, cause == Cause::unit ? row.unit : "", start, {}, 0, {}};
        stories.add_both_ways(story, priors.level_size, priors.level / 2,
                              cause == Cause::unit ? by_unit(side, row.unit) : by_settings(side));
      }
    }
    const Hypothesis alone{Cause::cells, Shape::one_set, side, "", start, {0, 0.2}, 0, {}};
    stories.add(alone, priors.one_set, [&row](const Row& other) { return &other == &row ? 1.0 : 0.0; });
  }
  blame_cells(stories, rows, priors);
  blame_records(stories, rows, records, priors);
  return stories.take();
}

}  // namespace cellarer::review
