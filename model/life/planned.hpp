// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/course.hpp"
#include "model/life/forecast.hpp"
#include "model/life/stint.hpp"

/// What plans do to the forecast of one side, beside what they draw (course.hpp).
namespace cellarer::life {

/// Why a side has no forecast though its cells are known, and what is asked then.
struct Silence {
  std::string because;  ///< one sentence
  std::vector<Question> questions;
};

/// In hospital nothing is forecast, asked or reminded of. Back home with settings or a unit of which nothing is known,
/// there is no forecast either, until a record of them from the admission on stands there: the page asks for it.
std::optional<Silence> silence(const Household& household, Side side, Instant as_of);

/// Whether any of that time was spent in hospital: what was drawn then is not known, and teaches nothing.
bool in_hospital_during(const Household& household, Instant from, Instant to);

/// The changing time by which a visit to come wants this side's cells changed: the last one before it. Cells that went
/// in less than a day before that time are fresh enough. The earliest such visit; none: no visit wants anything.
struct WantedChange {
  Instant by;
  Instant visit;
};
std::optional<WantedChange> wanted_change(const Household& household, Side side, Instant cells_since, Instant as_of);

/// Puts `change_by` of the forecast to the visit's date where that is the earlier one.
void heed_visits(SideForecast& forecast, const Household& household, Side side, Instant as_of);

/// Questions that plans ask. After a visit, for three days: was it changed? Paced more for three days, or three days
/// after it was last said to go on: is it still so?
void ask_about_plans(SideForecast& forecast, const Household& household, Side side, Instant as_of);

/// The times at which visits after `after` want fresh cells, one for each visit of this side: for stock, which counts
/// each as a change of its own (at most one set a visit too many).
std::vector<Instant> visits_after(const Household& household, Side side, Instant after);

/// For stock: the shortest median life [h] of the sets that will go in within the next 90 days, where plans change what
/// is drawn (spans that grow, pacing that ends); a set holds the charge that one put in now gives in `life_h`. What was
/// found for growing use errs to more sets, the early side. `ahead`: the side's course from now on, for 90 days and a
/// set's life; sets that outlast it are not looked at.
double shortest_coming_life_h(const Course& ahead, double life_h);

}  // namespace cellarer::life
