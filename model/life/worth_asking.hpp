// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/set_story.hpp"

namespace cellarer::life {

/// Whether to ask for a look at the gauge now, because it would narrow `change by` by much, and by little more later.
///
///   worth(t) = z (sd_before - sd_after(t)) / mean charge a day     [days by which `change by` would move later, if all
///              goes as expected];  sd: of the charge at cut-off (SetPosterior::worth_of_reading);  z = 4.26, the
///              standard normal quantile of the policy's 1 in 100 000
///
/// Asked for where the last reading is three days old or older, the change is not due yet, a reading is worth a quarter
/// of a day or more, and waiting until the last evening before the change would not make it worth half as much again.
/// Now is held against that last evening alone: a time between at which a reading would tell more is not looked for.
///
/// `last_reading`: of this set, or when it went in. A reading is what makes it silent, for three days; having asked
/// does not. Until somebody looks it stands on the page, for as long as the rest holds. A household that answers at
/// once is asked at most every third day.
bool worth_asking(const SetStory& story, const Course& course, Instant last_reading, Instant as_of, Instant change_by);

}  // namespace cellarer::life
