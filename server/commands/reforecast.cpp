// SPDX-License-Identifier: MIT
// reforecast: the forecast of every household of a store, computed anew.
#include <unistd.h>

#include <chrono>
#include <iostream>
#include <map>
#include <memory>
#include <mutex>
#include <thread>

#include "server/api/model_forecaster.hpp"
#include "server/clock.hpp"
#include "server/commands/command.hpp"
#include "server/commands/libraries.hpp"
#include "server/service/household_service.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

namespace {

struct ReforecastOptions {
  std::string data, at, profiles = usual_profiles().string();
  unsigned threads = std::max(1U, std::thread::hardware_concurrency());
  bool as_json = false;
};

/// On a terminal one line that is written over; elsewhere nothing.
class Progress {
 public:
  explicit Progress(std::size_t all) : all_(all) {}

  void one_more() {
    const std::lock_guard lock(mutex_);
    ++done_;
    const auto now = std::chrono::steady_clock::now();
    if (!on_terminal_ || (done_ < all_ && now - shown_ < std::chrono::milliseconds(100))) return;
    shown_ = now;
    constexpr std::size_t width = 40;
    const std::size_t filled = width * done_ / all_;
    std::cerr << "\r[" << std::string(filled, '#') << std::string(width - filled, ' ') << "] " << done_ << " of "
              << all_ << (done_ == all_ ? "\n" : "") << std::flush;
  }

 private:
  std::mutex mutex_;
  std::size_t all_, done_ = 0;
  bool on_terminal_ = isatty(STDERR_FILENO) == 1;
  std::chrono::steady_clock::time_point shown_;
};

std::vector<std::string> all_references(service::HouseholdService& households) {
  std::vector<std::string> references;
  for (;;) {
    const auto page = households.households(references.empty() ? "" : references.back(), 500);
    if (page.empty()) return references;
    for (const auto& household : page) references.push_back(household.reference);
  }
}

/// How many households got which phrase, by side; and who could not be computed.
struct Outcome {
  std::mutex mutex;
  std::map<std::string, int> phrases;
  std::map<std::string, std::string> failed;
};

void forecast_one(service::HouseholdService& households, const std::string& reference, Instant at, Outcome& outcome) {
  try {
    const auto snapshot = households.snapshot(reference);
    const auto made = nlohmann::json::parse(api::ModelForecaster().make(snapshot->record, at).forecast);
    const std::lock_guard lock(outcome.mutex);
    for (const char* side : {"left", "right"}) ++outcome.phrases[made["sides"][side].value("phrase", "no_forecast")];
  } catch (const std::exception& error) {
    const std::lock_guard lock(outcome.mutex);
    outcome.failed[reference] = error.what();
  }
}

void print(const ReforecastOptions& options, std::size_t count, double seconds, const Outcome& outcome) {
  const double per_second = seconds > 0 ? static_cast<double>(count) / seconds : 0;
  if (options.as_json) {
    std::cout << nlohmann::json{{"households", count},
                                {"seconds", seconds},
                                {"per_second", per_second},
                                {"sides", outcome.phrases},
                                {"failed", outcome.failed}}
                     .dump()
              << "\n";
    return;
  }
  std::printf("%zu households in %.1f s, %.1f a second\n", count, seconds, per_second);
  for (const auto& [phrase, sides] : outcome.phrases) std::printf("  %-26s %d sides\n", phrase.c_str(), sides);
}

int run_reforecast(const ReforecastOptions& options) {
  const auto at = options.at.empty() ? SystemClock().now() : cellarer::json::parse_rfc3339(options.at);
  if (!at) throw CLI::ValidationError("--at", "expected a time with its offset, such as 2026-03-01T21:30:00+01:00");
  const auto file = std::filesystem::path(options.data) / store::file_name;
  if (!std::filesystem::exists(file)) throw std::runtime_error("there is no store in " + options.data);
  const auto libraries = open_libraries(options.profiles);
  const auto store = store::open_sqlite_store(file);
  const SystemClock clock;
  service::HouseholdService households(*store, clock, *libraries);
  const auto references = all_references(households);
  Progress progress(references.size());
  Outcome outcome;
  std::atomic<std::size_t> next{0};
  const auto began = std::chrono::steady_clock::now();
  std::vector<std::thread> threads;
  for (unsigned i = 0; i < options.threads; ++i) {
    threads.emplace_back([&] {
      for (std::size_t i_household = next++; i_household < references.size(); i_household = next++) {
        forecast_one(households, references[i_household], *at, outcome);
        progress.one_more();
      }
    });
  }
  for (auto& thread : threads) thread.join();
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  print(options, references.size(), took.count(), outcome);
  for (const auto& [reference, why] : outcome.failed) std::cerr << "cellarer: " << reference << ": " << why << "\n";
  return outcome.failed.empty() ? done : failed;
}

}  // namespace

Command add_reforecast(CLI::App& parent) {
  auto options = std::make_shared<ReforecastOptions>();
  CLI::App* app = parent.add_subcommand("reforecast", "compute every household's forecast; say how many and how fast");
  app->add_option("--data", options->data, "folder of the store")->required();
  app->add_option("--at", options->at, "as of this time, RFC 3339 with offset; now where not given");
  app->add_option("--profiles", options->profiles, "folder with cells/ and stimulators/")->capture_default_str();
  app->add_option("--threads", options->threads, "computing at once")->check(CLI::Range(1U, 256U));
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_reforecast(*options); }};
}

}  // namespace cellarer::commands
