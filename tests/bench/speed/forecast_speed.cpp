// SPDX-License-Identifier: MIT
// forecast_speed PROFILES [ROUNDS]: how long one side's forecast takes, beside breath-by-breath CVODE to the same end.
// Prints JSON; tests/bench/speed/run makes rows of it. With "profile" after ROUNDS it only makes forecasts from
// scratch, for a profiler to look at.
#include <cstdio>
#include <iostream>

#include <nlohmann/json.hpp>

#include "model/life/forecast_with_tables.hpp"
#include "model/life/running_set.hpp"
#include "model/life/set_story.hpp"
#include "server/commands/libraries.hpp"
#include "server/heap.hpp"
#include "tests/bench/speed/alternating.hpp"
#include "tests/bench/speed/breath_by_breath_cvode.hpp"
#include "tests/bench/speed/invented_side.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::bench;

/// The model's end of a set of which nothing is unknown: its grid has one hypothesis.
double hours_by_model(const InventedSide& side, const cell::Profile& cells) {
  const life::Course course(side.household, Side::left, side.cells_in, side.cells_in + std::chrono::hours(24 * 60));
  auto exact = cells;
  exact.spread.dud_fraction = 0;
  life::SetPosterior::Setup setup;
  setup.course = &course;
  setup.cell = &exact;
  setup.grid = {1, 1, 1};
  const auto end = course.when(life::SetPosterior(setup).cutoff().charge(0.5));
  return std::chrono::duration<double, std::ratio<3600>>(end - side.cells_in).count();
}

struct AddedReading {
  double seconds;  ///< taken in, and the end's distribution made anew
  double seconds_with_nights;
};

/// A set followed reading by reading, as it is kept; the mean over its readings.
AddedReading added_reading(const InventedSide& side, const cell::Profile& cells, life::LoadTables& tables) {
  const life::Course course(side.household, Side::left, side.cells_in, side.now + std::chrono::hours(24 * 400));
  life::SetStorySetup setup;
  setup.course = &course;
  setup.cell = &cells;
  setup.tables = &tables;
  life::SetWalk walk(setup, side.household.cell_changes.front());
  const auto& readings = side.household.readings;
  double taking = 0, nights = 0, risk = 0;
  for (const auto& reading : readings) {
    life::CrossingDistribution end;
    taking += seconds_of([&] {
      walk.take(reading);
      end = walk.cutoff();
    });
    nights += seconds_of([&] {
      for (int night = 1; night <= 90; ++night)
        risk += end.by(course.charge_mAh(reading.at + std::chrono::hours(24 * night)));
    });
  }
  if (!(risk > 0)) throw std::runtime_error("a side that never runs out");
  const auto count = static_cast<double>(readings.size());
  return {taking / count, (taking + nights) / count};
}

/// The whole forecast again after each of the last readings, the set that is in being kept; the mean.
double seconds_again(const InventedSide& side, life::LoadTables& tables, std::size_t readings) {
  std::vector<life::Household> known;
  const auto& all = side.household.readings;
  for (std::size_t k = all.size() - readings; k <= all.size(); ++k) {
    known.push_back(side.household);
    known.back().readings.resize(k);
  }
  life::Learned learned;
  learned.keep_running(true);
  life::forecast(known.front(), side.now, tables, learned);
  const double seconds = seconds_of([&] {
    for (std::size_t k = 1; k < known.size(); ++k) life::forecast(known[k], side.now, tables, learned);
  });
  if (learned.running(Side::left)->went_on() != static_cast<int>(readings))
    throw std::runtime_error("a set that was kept was followed anew");
  return seconds / static_cast<double>(readings);
}

int run(const std::string& profiles, int rounds, bool only_forecasts) {
  keep_freed_memory();
  const auto libraries = commands::open_libraries(profiles);
  const auto unit = libraries->stimulator("percent-power").value();
  const auto cells = libraries->cell(service::family_profile_id).value();

  // A hundred nights and more of a light load; and a set that is used around the clock, for the comparison.
  const auto lasting = invented_side(unit, cells, {.hours_a_night = 4, .amplitude = 1, .days_in = 20});
  const auto steady = invented_side(unit, cells, {});
  SteadyPacing pacing{unit, cells.curve, duty::pacing_load(unit.left, steady.household.settings.front()), 12};

  life::LoadTables tables;  // as the service keeps them
  if (only_forecasts) {
    for (int i = 0; i < 100 * rounds; ++i) life::forecast(lasting.household, lasting.now, tables);
    return 0;
  }
  std::vector<double> taking, with_nights, again, scratch, same_scratch, cvode;
  std::size_t nights = 0;
  IntegratedLife integrated;
  added_reading(lasting, cells, tables);
  for (int round = 0; round < rounds; ++round) {
    cvode.push_back(seconds_of([&] { integrated = life_by_cvode(pacing); }));
    constexpr int repeats = 20;
    same_scratch.push_back(seconds_of([&] {
                             for (int i = 0; i < repeats; ++i) life::forecast(steady.household, steady.now, tables);
                           }) /
                           repeats);
    scratch.push_back(seconds_of([&] {
                        for (int i = 0; i < repeats; ++i)
                          nights =
                              life::forecast(lasting.household, lasting.now, tables).side(Side::left).nights.size();
                      }) /
                      repeats);
    const auto added = added_reading(lasting, cells, tables);
    taking.push_back(added.seconds);
    with_nights.push_back(added.seconds_with_nights);
    again.push_back(seconds_again(lasting, tables, 20));
  }
  const double by_model = hours_by_model(steady, cells);
  std::cout << nlohmann::json{{"reading_us", 1e6 * median(taking)},
                              {"reading_with_90_nights_us", 1e6 * median(with_nights)},
                              {"again_ms", 1e3 * median(again)},
                              {"scratch_ms", 1e3 * median(scratch)},
                              {"nights", nights},
                              {"readings", lasting.household.readings.size()},
                              {"steady_scratch_ms", 1e3 * median(same_scratch)},
                              {"cvode_ms", 1e3 * median(cvode)},
                              {"cvode_ms_per_day", 1e3 * median(cvode) / (integrated.hours / 24)},
                              {"cvode_hours", integrated.hours},
                              {"model_hours", by_model},
                              {"times_as_fast", median(cvode) / median(same_scratch)},
                              {"end_apart_percent", 100 * std::abs(by_model / integrated.hours - 1)},
                              {"rounds", rounds}}
                   .dump(2)
            << "\n";
  return nights == 90 ? 0 : 1;
}

}  // namespace

int main(int count, char** arguments) {
  try {
    if (count < 2) throw std::runtime_error("forecast_speed PROFILES [ROUNDS]");
    return run(arguments[1], count > 2 ? std::stoi(arguments[2]) : 7, count > 3);
  } catch (const std::exception& error) {
    std::cerr << "forecast_speed: " << error.what() << "\n";
    return 1;
  }
}
