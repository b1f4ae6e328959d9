// SPDX-License-Identifier: MIT
#include "model/life/worth_asking.hpp"

#include <algorithm>

namespace cellarer::life {

bool worth_asking(const SetStory& story, const Course& course, Instant last_reading, Instant as_of, Instant change_by) {
  using std::chrono::hours;
  constexpr double z_of_limit = 4.26, least_days = 0.25, much_more = 1.5;
  if (as_of - last_reading < hours(3 * 24) || as_of >= change_by || story.unanswered_high) return false;
  const double day_mAh = course.charge_per_day_mAh(as_of);
  if (day_mAh <= 0) return false;
  const auto worth_days = [&](Instant at) {
    const auto worth = story.posterior->worth_of_reading(course.charge_mAh(at));
    return z_of_limit * (worth.sd_before_mAh - worth.sd_after_mAh) / day_mAh;
  };
  const double now = worth_days(as_of);
  const auto last_evening = std::max(as_of, change_by - hours(24));
  return now >= least_days && worth_days(last_evening) <= much_more * now;
}

}  // namespace cellarer::life
