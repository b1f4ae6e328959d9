// SPDX-License-Identifier: MIT
#include "tests/bench/ours.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/life/calendar.hpp"
#include "model/life/lessons.hpp"
#include "model/life/policy.hpp"
#include "tests/bench/sides.hpp"

namespace cellarer::bench {

namespace {

using std::chrono::hours;

/// A set is followed at least so far ahead.
constexpr hours beyond_the_trial{24 * 500};

class Ours : public Forecaster, public TruthWatcher {
 public:
  Ours(const life::Household& first_day, const OurOptions& options)
      : household_(first_day), options_(options), learning_(household_) {}

  void set_in(Side side, const SetCourse& course) override { at(side).truth = course; }

  void recorded(const life::CellChange& change) override {
    auto& side = at(change.side);
    // Perhaps the same as the one before: until someone answers, the older set counts.
    if (side.walk && (change.perhaps_the_same || change.at <= side.stint.in.at)) return;
    household_.cell_changes.push_back(change);
    std::vector<life::Reading> later;
    if (side.walk) {
      auto& readings = side.stint.readings;
      const auto first_later = std::find_if(readings.begin(), readings.end(),
                                            [&](const life::Reading& reading) { return reading.at > change.at; });
      later.assign(first_later, readings.end());
      readings.erase(first_later, readings.end());
      if (!later.empty()) follow_anew(change.side);
      end_set(change.side, change);
    }
    side.stint = {change, std::nullopt, std::move(later)};
    begin_set(change.side);
  }

  void recorded(const life::Reading& reading) override {
    auto& side = at(reading.side);
    household_.readings.push_back(reading);
    if (!side.walk || reading.at < side.stint.in.at) return;
    const auto seen = std::holds_alternative<life::WarningSounded>(reading.value) ||
                      std::holds_alternative<life::SideStopped>(reading.value);
    side.alarmed = side.alarmed || seen;
    side.judged_at.reset();
    auto& readings = side.stint.readings;
    const bool in_order = readings.empty() || readings.back().at <= reading.at;
    readings.push_back(reading);
    if (in_order)
      side.walk->take(reading);
    else
      follow_anew(reading.side);
  }

  void recorded(const duty::Settings& settings) override {
    household_.settings.push_back(settings);
    for (const auto side : both_sides) follow_anew(side);
  }

  void recorded(const duty::PacedInstead& instead) override {
    household_.paced_instead.push_back(instead);
    for (const auto side : both_sides) follow_anew(side);
  }

  void recorded(const life::UnitInUse& unit) override {
    household_.units.push_back(unit);
    learn_anew();
    for (const auto side : both_sides) follow_anew(side);
  }

  bool advises_change(Side which, Instant now) override {
    auto& side = at(which);
    if (!side.walk || side.alarmed) return side.alarmed;
    judge(side, now);
    const auto& times = times_from(now);
    return !life::may_wait(risk_by(side, times[1]), risk_by(side, times[2]), household_.policy);
  }

  double probability_by(Side which, Instant now, Instant when) override {
    auto& side = at(which);
    if (!side.walk) return std::numeric_limits<double>::quiet_NaN();
    judge(side, now);
    return risk_by(side, when);
  }

 private:
  struct SideState {
    life::Stint stint;
    std::unique_ptr<life::Course> whole, course;  ///< of the household's time; of the set that is in
    std::unique_ptr<life::SetWalk> walk;
    std::unique_ptr<cell::Profile> told_cell;  ///< where the truth of the cell is given
    life::SetPrior learned;                    ///< of this set, before any truth was given
    life::CrossingDistribution cutoff;
    std::optional<Instant> judged_at;  ///< when `cutoff` was worked out; none: something is new since
    bool alarmed = false;
    std::optional<SetCourse> truth;
  };

  life::Household household_;
  OurOptions options_;
  life::LoadTables tables_;
  life::Learning learning_;
  std::optional<Instant> last_lesson_;
  std::array<SideState, 2> sides_;
  std::vector<Instant> times_;

  SideState& at(Side side) { return sides_[index_of(side)]; }

  static void judge(SideState& side, Instant now) {
    if (side.judged_at == now) return;
    side.cutoff = side.walk->cutoff();
    side.judged_at = now;
  }

  static double risk_by(const SideState& side, Instant when) { return side.cutoff.by(side.course->charge_mAh(when)); }

  /// This changing time and the two after it.
  const std::vector<Instant>& times_from(Instant now) {
    if (times_.empty() || times_.front() != now) times_ = life::changing_times(household_, now, now + hours(49));
    return times_;
  }

  const cell::Profile* cells(const SideState& side) const {
    return side.told_cell ? side.told_cell.get() : life::cells_in_side(household_, side.stint.in.cells).profile;
  }

  void begin_set(Side which) {
    auto& side = at(which);
    side.alarmed = false;
    follow(which);
  }

  void follow(Side which) {
    auto& side = at(which);
    const auto from = side.stint.in.at;
    side.walk.reset();
    side.judged_at.reset();
    if (!side.whole || side.whole->from() > from)
      side.whole = std::make_unique<life::Course>(household_, which, from, from + beyond_the_trial);
    side.course = std::make_unique<life::Course>(side.whole->cut_from(from));
    life::SetStorySetup setup;
    setup.course = side.course.get();
    setup.tables = &tables_;
    side.told_cell.reset();
    const auto& in = side.stint.in;
    setup.prior = side.learned =
        learning_.prior(*side.course, *cells(side), life::storage(in.cells.expires, in.at).log_sd);
    if (options_.truth && side.truth) {
      side.told_cell = std::make_unique<cell::Profile>(*cells(side));
      options_.truth(*side.truth, *side.course, setup.prior, *side.told_cell);
    }
    setup.cell = cells(side);
    side.walk = std::make_unique<life::SetWalk>(setup, side.stint.in);
    for (const auto& reading : side.stint.readings) side.walk->take(reading);
  }

  void end_set(Side which, const life::CellChange& out) {
    auto& side = at(which);
    side.stint.out = out;
    auto story = side.walk->ended(out);
    // A truth that was given is a lesson like any other, over what had been learned without it.
    story.prior = side.learned;
    if (life::may_teach(household_, which, side.stint) && side.course->charge_mAh(out.at) > 0)
      life::take_lesson(learning_, *side.course, *cells(side), story, out.at, last_lesson_);
  }

  /// After settings, hours or units have become known, or readings came late: the set from its beginning.
  void follow_anew(Side which) {
    auto& side = at(which);
    side.whole.reset();
    if (!side.walk) return;
    auto& readings = side.stint.readings;
    std::stable_sort(readings.begin(), readings.end(),
                     [](const life::Reading& a, const life::Reading& b) { return a.at < b.at; });
    follow(which);
  }

  /// Another unit is another place in what has been learned: all lessons once more.
  void learn_anew() {
    const auto now = std::max_element(household_.readings.begin(), household_.readings.end(),
                                      [](const auto& a, const auto& b) { return a.recorded_at < b.recorded_at; });
    const Instant as_of = now == household_.readings.end() ? household_.units.back().from : now->recorded_at;
    tables_ = {};
    learning_ = life::learn_from(
        household_, {life::stints(household_, Side::left, as_of), life::stints(household_, Side::right, as_of)},
        tables_);
  }
};

}  // namespace

MakeForecaster our_forecaster(const OurOptions& options) {
  return [options](const life::Household& first_day) { return std::make_unique<Ours>(first_day, options); };
}

}  // namespace cellarer::bench
