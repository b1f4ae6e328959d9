// SPDX-License-Identifier: MIT
#include "model/life/set_story.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::life {

namespace {

constexpr double out_of_range = 0.025;            // to one side of the 95 % range
constexpr double far_out_of_range = 0.001;        // no longer a gauge's mood: these may be other cells
constexpr double unrecorded_change_prior = 0.02;  // for a reading that jumps up
constexpr double limit_of_comparison = 1e-5;
constexpr std::chrono::hours another_look{6};  // a second glance, or a second phone, sees the same mistake again

/// Months of 1/12 year from now to the end of the month of expiry.
double years_until(std::chrono::year_month expires, Instant at) {
  const auto end = std::chrono::sys_days((expires + std::chrono::months(1)) / std::chrono::day(1));
  return hours_between(at, Instant(end)) / (24 * 365.25);
}

}  // namespace

Quantiles<double> quantiles(const CrossingDistribution& crossing) {
  return {crossing.charge(0.05), crossing.charge(0.50), crossing.charge(0.95)};
}

SetPosterior::Setup SetWalk::main_setup() const {
  SetPosterior::Setup setup;
  setup.course = setup_.course;
  setup.cell = setup_.cell;
  setup.tables = setup_.tables;
  setup.stored_share = storage(in_.cells.expires, in_.at).share;
  setup.start = in_.cells.age == CellAge::fresh ? StartDepth::fresh : StartDepth::anything;
  setup.carried_mAh = setup_.carried_mAh;
  setup.prior = setup_.prior;
  setup.grid = setup_.grid;
  // A start depth multiplies the nodes; an unknown set's distribution is wide, and a coarse grid serves it.
  if (setup.start == StartDepth::anything) setup.grid.use = 21, setup.grid.capacity = 5;
  return setup;
}

SetWalk::SetWalk(const SetStorySetup& setup, const CellChange& in) : setup_(setup), in_(in), sighted_(in.at) {
  main_ = std::make_shared<SetPosterior>(main_setup());
  story_.prior = setup.prior;
}

void SetWalk::go_on_with(const SetStorySetup& setup) {
  assert(is_of_one_mind());
  setup_ = setup;
  main_->go_on_with(*setup.course, *setup.cell);
}

std::shared_ptr<SetPosterior> SetWalk::branch(const Course& course, StartDepth start) const {
  auto setup = main_setup();
  setup.course = &course;
  setup.start = start;
  setup.carried_mAh = 0;
  setup.grid.use = 21;
  setup.grid.capacity = 5;
  // The branch's course begins with the phase that runs then.
  auto& shifts = setup.prior.phase_shifts;
  const auto passed = setup_.course->phases().size() - course.phases().size();
  if (!shifts.empty()) shifts.erase(shifts.begin(), shifts.begin() + static_cast<std::ptrdiff_t>(passed));
  return std::make_shared<SetPosterior>(setup);
}

void SetWalk::take(const Reading& reading) {
  if (std::holds_alternative<WarningSounded>(reading.value) && !story_.warned_at) story_.warned_at = reading.at;
  if (std::holds_alternative<SideStopped>(reading.value) && !story_.stopped_at) story_.stopped_at = reading.at;
  const auto phase = setup_.course->phase_at(setup_.course->charge_mAh(reading.at));
  const auto observation = observation_of(reading, *setup_.course->phases()[phase].unit);
  if (observation) take(reading, *observation);
}

void SetWalk::take(const Reading& reading, const Observation& observation) {
  const auto place = main_->place(observation);
  const bool high = place.above < out_of_range && !changed_;
  if (high && (!waiting_ || observation.at - waiting_->at < another_look)) {
    if (!waiting_) {
      waiting_ = observation;
      main_->set_aside(observation);
    }
    story_.unanswered_high = reading;
    return;
  }
  if (high) open_changed_branch();
  // A high reading that the next one does not bear out was a mistake, and has moved nothing.
  waiting_.reset();
  story_.unanswered_high.reset();
  const bool low = place.below < out_of_range;
  if (low) story_.low = observation.at;
  if (place.below < far_out_of_range) open_low_branch(observation);
  take_in(observation, low);
  ++story_.readings_used;
  if (reading.condition != Condition::off || observation.warning) seen_to_run(observation.at);
}

void SetWalk::seen_to_run(Instant at) {
  sighted_ = std::max(sighted_, at);
  for (auto* posterior : {main_.get(), changed_.get(), low_.get()}) {
    if (posterior != nullptr && sighted_ > posterior->course().from()) posterior->alive_at(sighted_);
  }
}

void SetWalk::take_in(const Observation& observation, bool trusted) {
  main_->observe(observation, trusted);
  if (changed_) changed_->observe(observation);
  if (low_) low_->observe(observation, trusted);
}

void SetWalk::open_changed_branch() {
  const auto between = sighted_ + (waiting_->at - sighted_) / 2;
  story_.agrees = false;
  // At the very end of an ended set's course there is nothing to follow.
  if (between >= setup_.course->to()) return take_in(*waiting_, false);
  changed_course_ = std::make_shared<const Course>(setup_.course->cut_from(between));
  changed_ = branch(*changed_course_, StartDepth::fresh);
  evidence_at_jump_ = main_->log_evidence();
  take_in(*waiting_, false);
}

void SetWalk::open_low_branch(const Observation& observation) {
  story_.far_below = true;
  if (observation.at >= setup_.course->to()) return;
  low_course_ = std::make_shared<const Course>(setup_.course->cut_from(observation.at));
  low_ = branch(*low_course_, StartDepth::anything);
}

double SetWalk::perhaps_changed() const {
  if (!changed_) return 0;
  const double ratio =
      std::exp(std::clamp(changed_->log_evidence() - (main_->log_evidence() - evidence_at_jump_), -50.0, 50.0));
  const double changed = unrecorded_change_prior * ratio;
  return changed / (changed + 1 - unrecorded_change_prior);
}

CrossingDistribution SetWalk::crossing(Crossed what) const {
  const auto of = [&](const SetPosterior& posterior) {
    return what == Crossed::cutoff ? posterior.cutoff() : posterior.warning();
  };
  auto crossing = of(*main_);
  if (changed_) {
    const double origin = setup_.course->charge_mAh(changed_course_->from());
    crossing = crossing.mixed_with(of(*changed_), 1 - perhaps_changed(), origin);
  }
  if (low_) {
    const double origin = setup_.course->charge_mAh(low_course_->from());
    const double end_of_low = origin + low_->cutoff().charge(limit_of_comparison);
    if (end_of_low < main_->cutoff().charge(limit_of_comparison))
      return CrossingDistribution().mixed_with(of(*low_), 0, origin);
  }
  return crossing;
}

CrossingDistribution SetWalk::cutoff() const { return crossing(Crossed::cutoff); }

SetStory SetWalk::story() const {
  auto story = story_;
  story.lesson = main_->lesson();
  story.posterior = main_;
  story.cutoff = crossing(Crossed::cutoff);
  story.warning = crossing(Crossed::warning);
  story.cutoff_mAh = quantiles(story.cutoff);
  story.warning_mAh = quantiles(story.warning);
  story.perhaps_changed = perhaps_changed();
  return story;
}

SetStory SetWalk::ended(const CellChange& out) {
  // A change because of a warning that nobody noted as a reading says the same: it sounded, and the side still ran.
  if (out.reason == ChangeReason::warning && !story_.warned_at) {
    const auto& unit = *setup_.course->phases().back().unit;
    take_in(*observation_of({out.at, out.recorded_at, in_.side, Condition::pacing, WarningSounded{}}, unit), false);
    seen_to_run(out.at);
  }
  if (out.reason == ChangeReason::planned) seen_to_run(out.at);
  if (out.reason == ChangeReason::ran_out) main_->stopped_between(sighted_, story_.stopped_at.value_or(out.at));
  story_.lesson = main_->lesson();
  story_.posterior = main_;
  return story_;
}

SetStory follow(const SetStorySetup& setup, const Stint& stint) {
  SetWalk walk(setup, stint.in);
  for (const auto& reading : stint.readings) walk.take(reading);
  return stint.out ? walk.ended(*stint.out) : walk.story();
}

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

}  // namespace cellarer::life
