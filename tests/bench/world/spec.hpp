// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/duty/stimulator.hpp"
#include "model/life/forecast.hpp"

/// What a simulated world is made of: every figure that its truth is drawn with. Invented, except where a source is
/// named. All spreads are standard deviations of the natural logarithm (0.02 is 2 %) unless said otherwise.
///
///     log use of a day = household + side + unit's channel + set + drift + day      about what the profile says
///     log capacity     = lot + set (+ ln(1 - shortfall) for a dud) + ln(1 - storage loss)   about specimen b's curve
///     shown percent    = scale(V) + unit's bias + set's bias + wander of the day
namespace cellarer::bench {

/// How often a household reads the gauge.
enum class ReadingHabit {
  daily,
  every_third_day,
  as_they_trust,  ///< daily for two sets, every third day for three, weekly for five, then once a fortnight
  never
};
inline constexpr std::size_t reading_habit_count = 4;

struct CellsSpec {
  /// Brands with two specimens at both loads; household h has number h modulo their count.
  std::vector<std::string> brands;
  double specimen_spread = 1;  ///< truth = a (b / a)^this: 0 specimen a, 1 specimen b, 2 doubled
  double exponent_low = 1.05,
         exponent_high = 1.15;  ///< Peukert's below 100 mA, one a specimen (published-figures: E91)
  /// Correlation of those of a brand's two specimens. Measured of theirs from 100 to 500 mA: 0.65 at 0.9 V (13 brands).
  double exponent_alike = 0.65;
  double set_log_sd = 0.02;      ///< of a set's capacity (two cells of 2.8 %, or the weaker's)
  double lot_log_sd = 0;         ///< of a lot's
  int sets_a_lot = 20;           ///< per side, before the next lot is opened
  double dud_fraction = 0;       ///< of sets (assumed 0.003 in the field)
  double dud_shortfall = 0.22;   ///< of its capacity
  double stored_years_most = 0;  ///< a lot is between nought and so many years old; 2 % of capacity a year
  double expiry_recorded = 1;    ///< probability that the expiry is noted at a change
  double other_brand = 0;        ///< probability that a lot is of another brand of the list
};

struct UnitSpec {
  duty::Converter converter = duty::Converter::constant_current;
  int gauge_steps = 0;              ///< 0: a gauge in percent; 3, 5, 10: of so many steps
  bool own_scale = true;            ///< the gauge's scale is made for the household's brand; false: for the first brand
  double warning_percent = 10;      ///< of the shown gauge, where the unit's own warning sounds
  double wander_points = 4;         ///< gauge noise
  double wander_correlation = 0.8;  ///< from one day to the next
  double unit_bias_points = 3;      ///< of a unit's channel, common to all its sets
  double set_bias_points = 0;       ///< of each set's readings
  double mistake_probability = 0;   ///< a reading has nothing to do with the gauge
  double display_mA = 0;            ///< more on the left side, pacing or not: it feeds the display
  double burst_seen = 0.4;          ///< share of the burst that reaches the cells
  /// Share of the burst's excess over the mean that counts as if it were steady. In the model's terms R_fast / R,
  /// 0.6 fresh to 0.2 spent; drawn between these, one a world (by seed).
  double burst_share_low = 0.3, burst_share_high = 0.5;
};

struct UseSpec {
  double household_log_sd = 0;
  double side_log_sd = 0.015;
  double channel_log_sd = 0;  ///< of a unit's side
  double set_log_sd = 0.04;
  double day_log_sd = 0.02;
  double drift_log_sd_a_month = 0;     ///< random walk of the amplitude that reaches the wearer
  double exponent_sd = 0;              ///< of amplitude, about the profile's 1.4 (absolute)
  double settings_changes_a_year = 0;  ///< of the amplitude, by 5 to 20 % up or down, recorded
  double longer_spells_a_year = 0;     ///< two to nine days of pacing 2 to 8 hours a day longer (an infection)
  double longer_recorded = 0.7;        ///< probability that such a spell is recorded when it begins
  double unit_swaps_a_year = 0;        ///< between the household's two units, recorded
};

struct PeopleSpec {
  /// Probability of each ReadingHabit among households, in its order.
  std::array<double, reading_habit_count> habits{1, 0, 0, 0};
  double missed = 0;          ///< probability that the household cannot change on an evening (it reads all the same)
  double warning_heeded = 0;  ///< probability that a warning of a set is heard and the cells changed at once
  double early_a_year = 0;    ///< changes of their own wish, a side and year
  double next_morning = 0;    ///< of records that are entered the next morning
  double wrong_side = 0;      ///< of changes
  double twice = 0;           ///< of changes; the second some hours later, by someone else
  double never = 0;           ///< of changes
  double sudden_a_year = 0;   ///< a dead cell, a contact, the unit: a side and year
};

struct WorldSpec {
  std::string name;
  std::uint64_t seed = 1;     ///< of what is drawn once for the whole world: how its brands do at low currents
  int nights = 365;           ///< of every household, from the first evening
  double set_life_days = 12;  ///< of a set with no deviation: hours paced a day are chosen for it (above what 24 h
                              ///< take: the amplitude)
  std::string zone = "UTC";
  std::vector<std::chrono::minutes> changing_times{std::chrono::hours(21)};
  life::Policy policy;  ///< as on the household's first day
  CellsSpec cells;
  UnitSpec unit;
  UseSpec use;
  PeopleSpec people;
};

/// The reference world of the targets: sets of 12 days, daily readings, use 4 % a set, capacity 2 % a set, side known
/// to 1.5 %, days 2 %, gauge noise 4 points at correlation 0.8 a day and bias 3 points, one changing time a day.
/// `gauge_steps` 0: percent; 5: five steps. `missed`: of changing times, the warning unheeded. Not said there and
/// chosen here: all thirteen measured brands in turn, the unit's scale made for the brand; a warning at 10 %; a unit
/// that draws the same current at every voltage, so that a share of the charge is the same share of the life. (One of
/// constant power draws a sixth more at the end: what is left in a set is then two points more charge for the same
/// hours.)
WorldSpec reference_world(int gauge_steps = 0, double missed = 0);

/// Everything switched on, with figures that seem plausible; each is an assumption.
WorldSpec field_world(int gauge_steps = 5);

}  // namespace cellarer::bench
