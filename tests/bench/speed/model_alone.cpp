// SPDX-License-Identifier: MIT
// model_alone DATA PROFILES MOST: the model's own time for the first households of a store, their records read and
// folded beforehand and kept in memory, but nothing kept of what their ended sets taught. Prints JSON: households,
// processor seconds of one core.
#include <iostream>

#include "server/clock.hpp"
#include "server/commands/libraries.hpp"
#include "server/heap.hpp"
#include "server/service/household_forecast.hpp"
#include "server/service/household_service.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/bench/speed/alternating.hpp"

namespace {

using namespace cellarer;

int run(const std::string& data, const std::string& profiles, std::size_t most) {
  keep_freed_memory();
  const auto libraries = commands::open_libraries(profiles);
  const auto store = store::open_sqlite_store(std::filesystem::path(data) / store::file_name);
  const SystemClock clock;
  service::HouseholdService households(*store, clock, *libraries);
  std::vector<service::HouseholdRecord> records;
  for (const auto& household : households.households("", most))
    records.push_back(households.snapshot(household.reference)->record);
  const auto now = clock.now();
  for (auto& record : records) record.lessons = nullptr;
  for (const auto& record : records) service::household_forecast(record, now);
  std::vector<double> rounds;
  for (int round = 0; round < 7; ++round) {
    rounds.push_back(bench::seconds_of([&] {
      for (const auto& record : records) service::household_forecast(record, now);
    }));
  }
  std::cout << nlohmann::json{{"households", records.size()}, {"processor_seconds", bench::median(rounds)}}.dump()
            << "\n";
  return 0;
}

}  // namespace

int main(int count, char** arguments) {
  try {
    if (count != 4) throw std::runtime_error("model_alone DATA PROFILES MOST");
    return run(arguments[1], arguments[2], std::stoul(arguments[3]));
  } catch (const std::exception& error) {
    std::cerr << "model_alone: " << error.what() << "\n";
    return 1;
  }
}
