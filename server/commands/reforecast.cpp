// SPDX-License-Identifier: MIT
// reforecast: the forecast of every household of a store, computed anew; into a file, only what is not in it yet.
#include <sys/resource.h>
#include <unistd.h>

#include <chrono>
#include <iostream>
#include <map>
#include <memory>
#include <mutex>
#include <thread>

#include "server/api/forecast_document.hpp"
#include "server/api/message.hpp"
#include "server/api/sentences.hpp"
#include "server/clock.hpp"
#include "server/commands/command.hpp"
#include "server/commands/libraries.hpp"
#include "server/commands/reforecast_file.hpp"
#include "server/commands/reforecast_lessons.hpp"
#include "server/household_key.hpp"
#include "server/service/agency_document.hpp"
#include "server/service/household_service.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

namespace {

struct ReforecastOptions {
  std::string data, at, out, profiles = usual_profiles().string();
  unsigned threads = std::max(1U, std::thread::hardware_concurrency());
  bool as_json = false, in_background = false;
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

constexpr std::size_t households_of_a_batch = 500;

/// How many households got which phrase, by side; and who could not be computed.
struct Outcome {
  std::mutex mutex;
  std::size_t computed = 0, kept = 0;
  std::map<std::string, int> phrases;
  std::map<std::string, std::string> failed;
};

/// The list of households is read in batches, in the order of their references. Of a batch each thread takes one home
/// after the other, reads its record and computes it; what they made is written together.
class Reforecast {
 public:
  Reforecast(service::HouseholdService& households, Instant at, unsigned threads, ReforecastFile* file)
      : households_(households), at_(at), threads_(threads), file_(file) {
    if (file_ != nullptr) lessons_.emplace();
  }

  const Outcome& run() {
    Progress progress(count());
    for (std::string after;;) {
      const auto batch = households_.households(after, households_of_a_batch);
      if (batch.empty()) return outcome_;
      after = batch.back().reference;
      std::vector<std::string> lines(batch.size());
      std::atomic<std::size_t> next{0};
      const auto work = [&] {
        for (std::size_t i = next++; i < batch.size(); i = next++) {
          lines[i] = forecast_one(batch[i]);
          progress.one_more();
        }
      };
      std::vector<std::thread> threads;
      for (unsigned i = 1; i < threads_; ++i) threads.emplace_back(work);
      work();
      for (auto& thread : threads) thread.join();
      if (file_ != nullptr) file_->add(lines);
    }
  }

 private:
  std::size_t count() {
    std::size_t all = 0;
    for (std::string after;;) {
      const auto page = households_.households(after, 10 * households_of_a_batch);
      if (page.empty()) return all;
      all += page.size();
      after = page.back().reference;
    }
  }

  MadeFrom made_from(const std::string& household, std::int64_t entry) {
    const auto agency = agency_of(household);
    const auto knowledge = households_.agencies().of(agency);
    const std::lock_guard lock(mutex_);
    auto& learned = learned_[agency];
    if (learned.first != knowledge) learned = {knowledge, api::entity_tag(service::agency_document(*knowledge).dump())};
    return {entry, households_.journal().version(agency), learned.second};
  }

  /// Its line; empty where the one that is there still holds, or it cannot be computed.
  std::string forecast_one(const store::StoredHousehold& household) {
    const std::string& reference = household.reference;
    try {
      if (file_ != nullptr && file_->is_current(reference, made_from(reference, household.last_entry), at_)) {
        const std::lock_guard lock(outcome_.mutex);
        ++outcome_.kept;
        return "";
      }
      auto from = made_from(reference, 0);  // before it is read: what comes in between is looked at the next time
      const auto snapshot = households_.snapshot(reference);
      households_.let_go(reference);
      from.entry = snapshot->last_entry;
      const auto& record = snapshot->record;
      std::string lessons = file_ != nullptr ? file_->lessons_of(reference) : "";
      if (!lessons.empty() && !lessons_->take_up(lessons, record, at_)) lessons.clear();
      const auto answer = service::household_forecast(record, at_);
      if (file_ != nullptr) lessons = lessons_->text_of(record, at_, lessons);
      auto line = ReforecastFile::line(reference, from, at_, lessons, api::forecast_document(record, answer));
      const std::lock_guard lock(outcome_.mutex);
      ++outcome_.computed;
      for (const auto side : both_sides) ++outcome_.phrases[api::wire_name(answer.life.side(side).phrase)];
      return line;
    } catch (const std::exception& error) {
      const std::lock_guard lock(outcome_.mutex);
      outcome_.failed[reference] = error.what();
      return "";
    }
  }

  service::HouseholdService& households_;
  Instant at_;
  unsigned threads_;
  ReforecastFile* file_;
  std::optional<ReforecastLessons> lessons_;  ///< where there is a file
  Outcome outcome_;
  std::mutex mutex_;
  std::map<std::string, std::pair<service::Common, std::string>> learned_;
};

void print(const ReforecastOptions& options, double seconds, const Outcome& outcome) {
  const std::size_t count = outcome.computed + outcome.kept + outcome.failed.size();
  const double per_second = seconds > 0 ? static_cast<double>(outcome.computed) / seconds : 0;
  if (options.as_json) {
    std::cout << nlohmann::json{{"households", count},     {"computed", outcome.computed}, {"kept", outcome.kept},
                                {"seconds", seconds},      {"per_second", per_second},     {"sides", outcome.phrases},
                                {"failed", outcome.failed}}
                     .dump()
              << "\n";
    return;
  }
  std::printf("%zu households, %zu computed in %.1f s, %.1f a second\n", count, outcome.computed, seconds, per_second);
  if (outcome.kept > 0) std::printf("  %zu had not changed\n", outcome.kept);
  for (const auto& [phrase, sides] : outcome.phrases) std::printf("  %-26s %d sides\n", phrase.c_str(), sides);
}

int run_reforecast(const ReforecastOptions& options) {
  if (options.in_background) setpriority(PRIO_PROCESS, 0, 19);  // before there are threads, which inherit it
  const auto at = options.at.empty() ? SystemClock().now() : cellarer::json::parse_rfc3339(options.at);
  if (!at) throw CLI::ValidationError("--at", "expected a time with its offset, such as 2026-03-01T21:30:00+01:00");
  const auto file = std::filesystem::path(options.data) / store::file_name;
  if (!std::filesystem::exists(file)) throw std::runtime_error("there is no store in " + options.data);
  const auto libraries = open_libraries(options.profiles);
  const auto store = store::open_sqlite_store(file);
  const SystemClock clock;
  service::HouseholdService households(*store, clock, *libraries);
  std::unique_ptr<ReforecastFile> out;
  if (!options.out.empty()) out = std::make_unique<ReforecastFile>(options.out);
  const auto began = std::chrono::steady_clock::now();
  Reforecast reforecast(households, *at, options.threads, out.get());
  const Outcome& outcome = reforecast.run();
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  print(options, took.count(), outcome);
  for (const auto& [reference, why] : outcome.failed) std::cerr << "cellarer: " << reference << ": " << why << "\n";
  return outcome.failed.empty() ? done : failed;
}

}  // namespace

Command add_reforecast(CLI::App& parent) {
  auto options = std::make_shared<ReforecastOptions>();
  CLI::App* app = parent.add_subcommand("reforecast", "compute every household's forecast; say how many and how fast");
  app->add_option("--data", options->data, "folder of the store")->required();
  app->add_option("--at", options->at, "as of this time, RFC 3339 with offset; now where not given");
  app->add_option("--out", options->out,
                  "file for the forecasts, one a line; where it is there, only what is missing, has changed or is 12 h "
                  "old is computed and added, so that a run that was cut off goes on; what sets taught is kept there "
                  "too, so that the next run is quicker");
  app->add_option("--profiles", options->profiles, "folder with cells/ and stimulators/")->capture_default_str();
  app->add_option("--threads", options->threads, "computing at once")->check(CLI::Range(1U, 256U));
  app->add_flag("--background", options->in_background,
                "at the lowest priority, so that a service on the same machine goes on undisturbed");
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_reforecast(*options); }};
}

}  // namespace cellarer::commands
