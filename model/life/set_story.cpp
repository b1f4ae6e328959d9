// SPDX-License-Identifier: MIT
#include "model/life/set_story.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::life {

namespace {

constexpr double out_of_range = 0.025;            // to one side of the 95 % range
constexpr double unrecorded_change_prior = 0.02;  // for a reading that jumps up
constexpr double limit_of_comparison = 1e-5;

/// Months of 1/12 year from now to the end of the month of expiry.
double years_until(std::chrono::year_month expires, Instant at) {
  const auto end = std::chrono::sys_days((expires + std::chrono::months(1)) / std::chrono::day(1));
  return hours_between(at, Instant(end)) / (24 * 365.25);
}

/// The walk through one stint's readings, with the side branches that a surprising reading opens.
class Walk {
 public:
  Walk(const SetStorySetup& setup, const Stint& stint)
      : setup_(setup), stint_(stint), main_(std::make_shared<SetPosterior>(main_setup())), sighted_(stint.in.at) {}

  SetStory run() {
    for (const auto& reading : stint_.readings) {
      note_end(reading);
      const auto phase = setup_.course->phase_at(setup_.course->charge_mAh(reading.at));
      const auto observation = observation_of(reading, *setup_.course->phases()[phase].unit);
      if (observation) take(reading, *observation);
    }
    warning_of_the_change();
    see_it_run();
    story_.prior = setup_.prior;
    story_.moments = main_->moments();
    story_.posterior = main_;
    if (!setup_.lesson_only) judge();
    return std::move(story_);
  }

 private:
  const SetStorySetup& setup_;
  const Stint& stint_;
  std::shared_ptr<SetPosterior> main_;
  std::unique_ptr<Course> changed_course_, low_course_;
  std::unique_ptr<SetPosterior> changed_, low_;  ///< the hypotheses "a change went unrecorded", "depth unknown since"
  double evidence_at_jump_ = 0;
  std::optional<Observation> waiting_;  ///< a high reading that waits for a second one
  Instant sighted_;                     ///< when a reading that fitted last showed the side to run
  SetStory story_;

  SetPosterior::Setup main_setup() const {
    SetPosterior::Setup setup;
    setup.course = setup_.course;
    setup.cell = setup_.cell;
    const auto stored = storage(stint_.in.cells.expires, stint_.in.at);
    setup.stored_share = stored.share;
    setup.stored_log_sd = stored.log_sd;
    setup.start = stint_.in.cells.age == CellAge::fresh ? StartDepth::fresh : StartDepth::anything;
    setup.carried_mAh = setup_.carried_mAh;
    setup.prior = setup_.prior;
    setup.grid = setup_.grid;
    // A start depth multiplies the nodes; an unknown set's distribution is wide, and a coarse grid serves it.
    if (setup.start == StartDepth::anything) setup.grid.use = 21, setup.grid.capacity = 5;
    return setup;
  }

  std::unique_ptr<SetPosterior> branch(const Course& course, StartDepth start) const {
    auto setup = main_setup();
    setup.course = &course;
    setup.start = start;
    setup.carried_mAh = 0;
    setup.grid.use = 21;
    setup.grid.capacity = 5;
    return std::make_unique<SetPosterior>(setup);
  }

  void note_end(const Reading& reading) {
    if (std::holds_alternative<WarningSounded>(reading.value) && !story_.warned_at) story_.warned_at = reading.at;
    if (std::holds_alternative<SideStopped>(reading.value) && !story_.stopped_at) story_.stopped_at = reading.at;
  }

  void take(const Reading& reading, const Observation& observation) {
    const auto place = main_->place(observation);
    const bool high = place.above < out_of_range && !changed_;
    if (high && !waiting_) {
      waiting_ = observation;
      story_.unanswered_high = reading;
      return;
    }
    if (high) open_changed_branch();
    // A high reading that the next one does not bear out was a mistake, and has moved nothing.
    waiting_.reset();
    story_.unanswered_high.reset();
    if (place.below < out_of_range && !setup_.lesson_only) open_low_branch(observation);
    take_in(observation);
    ++story_.readings_used;
    if (observation.condition != Condition::off) sighted_ = std::max(sighted_, observation.at);
  }

  void take_in(const Observation& observation) {
    main_->observe(observation);
    if (changed_) changed_->observe(observation);
    if (low_) low_->observe(observation, story_.low == observation.at);
  }

  void open_changed_branch() {
    const auto between = sighted_ + (waiting_->at - sighted_) / 2;
    changed_course_ = std::make_unique<Course>(setup_.course->cut_from(between));
    changed_ = branch(*changed_course_, StartDepth::fresh);
    evidence_at_jump_ = main_->log_evidence();
    take_in(*waiting_);
    story_.agrees = false;
  }

  void open_low_branch(const Observation& observation) {
    low_course_ = std::make_unique<Course>(setup_.course->cut_from(observation.at));
    low_ = branch(*low_course_, StartDepth::anything);
    story_.low = observation.at;
  }

  /// A change because of a warning that nobody noted as a reading says the same: it sounded, and the side still ran.
  void warning_of_the_change() {
    if (!stint_.out || stint_.out->reason != ChangeReason::warning || story_.warned_at) return;
    const auto& unit = *setup_.course->phases().back().unit;
    const Reading warning{stint_.out->at, stint_.out->recorded_at, stint_.in.side, Condition::pacing, WarningSounded{}};
    take_in(*observation_of(warning, unit));
    sighted_ = stint_.out->at;
  }

  void see_it_run() {
    if (stint_.out && stint_.out->reason == ChangeReason::planned) sighted_ = std::max(sighted_, stint_.out->at);
    if (stint_.out && stint_.out->reason == ChangeReason::ran_out) {
      main_->stopped_between(sighted_, story_.stopped_at.value_or(stint_.out->at));
      return;
    }
    for (auto* posterior : {main_.get(), changed_.get(), low_.get()}) {
      if (posterior != nullptr && sighted_ > posterior->course().from()) posterior->alive_at(sighted_);
    }
  }

  void judge() {
    story_.cutoff = main_->cutoff();
    story_.warning = main_->warning();
    if (changed_) {
      const double ratio =
          std::exp(std::clamp(changed_->log_evidence() - (main_->log_evidence() - evidence_at_jump_), -50.0, 50.0));
      const double changed = unrecorded_change_prior * ratio;
      story_.perhaps_changed = changed / (changed + 1 - unrecorded_change_prior);
      const double origin = setup_.course->charge_mAh(changed_course_->from());
      story_.cutoff = story_.cutoff.mixed_with(changed_->cutoff(), 1 - story_.perhaps_changed, origin);
      story_.warning = story_.warning.mixed_with(changed_->warning(), 1 - story_.perhaps_changed, origin);
    }
    if (low_) {
      const double origin = setup_.course->charge_mAh(low_course_->from());
      const auto cutoff = CrossingDistribution().mixed_with(low_->cutoff(), 0, origin);
      if (cutoff.charge(limit_of_comparison) < story_.cutoff.charge(limit_of_comparison)) {
        story_.cutoff = cutoff;
        story_.warning = CrossingDistribution().mixed_with(low_->warning(), 0, origin);
      }
    }
  }
};

}  // namespace

CellsInSide cells_in_side(const Household& household, const CellSet& cells) {
  CellsInSide found;
  if (!cells.profile) {
    found.type_unknown = true;
    if (household.unknown_cells)
      found.profile = &*household.unknown_cells;
    else
      found.why_not = "The type of these cells was not recorded.";
    return found;
  }
  const auto profile = household.cell_profiles.find(*cells.profile);
  if (profile == household.cell_profiles.end()) {
    found.why_not = "Nothing is known here of cells of type " + *cells.profile + ".";
  } else if (!profile->second.usable) {
    found.why_not = profile->second.why_not;
  } else {
    found.profile = &profile->second;
  }
  return found;
}

Storage storage(const std::optional<std::chrono::year_month>& expires, Instant at) {
  constexpr double loss_a_year = 0.02, usual_years = 3, unknown_years_sd = 1.5;
  if (!expires) return {1 - loss_a_year * usual_years, loss_a_year * unknown_years_sd, false};
  const double left = years_until(*expires, at);
  return {1 - loss_a_year * std::clamp(10 - left, 0.0, 12.0), 0, left < 0};
}

double carried_charge_mAh(const Household& household, Instant as_of, const Stint& stint) {
  double carried_mAh = 0;
  if (!stint.in.cells.set_id) return carried_mAh;
  for (const auto side : both_sides) {
    for (const auto& earlier : stints(household, side, as_of)) {
      const bool same = earlier.in.cells.set_id == stint.in.cells.set_id && earlier.in.at < stint.in.at;
      if (!same || !earlier.out || earlier.out->at <= earlier.in.at) continue;
      const Course course(household, side, earlier.in.at, earlier.out->at);
      carried_mAh += course.charge_mAh(course.to());
    }
  }
  return carried_mAh;
}

SetStory follow(const SetStorySetup& setup, const Stint& stint) { return Walk(setup, stint).run(); }

}  // namespace cellarer::life
