// SPDX-License-Identifier: MIT
#include "model/life/running_set.hpp"

#include "model/life/basis.hpp"

namespace cellarer::life {

namespace {

/// What a set that was followed through its first readings rests on. Of the course that is what was drawn until then:
/// what is planned for later moves no reading.
std::string basis_of(const SetStorySetup& setup, const Stint& stint, std::size_t readings) {
  Basis basis;
  basis.add(*setup.cell);
  basis.add(setup.prior);
  basis.add(setup.grid);
  basis.add(setup.carried_mAh);
  basis.add(stint.in);
  basis.add(readings);
  for (std::size_t k = 0; k < readings; ++k) basis.add(stint.readings[k]);
  const auto& course = *setup.course;
  basis.add(course.side());
  basis.add(course.charge_per_day_mAh(course.from()));
  for (const auto& phase : course.phases()) {
    basis.add(phase.charge_from_mAh);
    basis.add(*phase.unit);
    basis.add(phase.unit_index);
    basis.add(phase.pacing);
  }
  const auto until = readings == 0 ? course.from() : stint.readings[readings - 1].at;
  for (const auto& stretch : course.stretches()) {
    if (stretch.from > until) break;
    basis.add(stretch.from);
    basis.add(stretch.load);
  }
  return basis.octets();
}

}  // namespace

const SetStory& RunningSet::up_to(const SetStorySetup& setup, const Stint& stint) {
  const bool goes_on =
      walk_ && walk_->is_of_one_mind() && taken_ <= stint.readings.size() && basis_ == basis_of(setup, stint, taken_);
  if (goes_on) {
    walk_->go_on_with(setup);
    ++went_on_;
  } else {
    walk_.emplace(setup, stint.in);
    taken_ = 0;
  }
  const bool newer = !goes_on || taken_ < stint.readings.size();
  for (; taken_ < stint.readings.size(); ++taken_) walk_->take(stint.readings[taken_]);
  if (newer) {
    basis_ = basis_of(setup, stint, taken_);
    story_ = walk_->story();
  }
  return story_;
}

}  // namespace cellarer::life
