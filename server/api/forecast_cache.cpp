// SPDX-License-Identifier: MIT
#include "server/api/forecast_cache.hpp"

namespace cellarer::api {

namespace {

constexpr std::chrono::minutes longest_kept{10};
constexpr std::size_t most_kept = 8192;

Finished finish(MadeForecast made, std::int64_t last_entry, Instant as_of) {
  auto finished = std::make_shared<FinishedForecast>();
  finished->last_entry = last_entry;
  finished->as_of = as_of;
  finished->outdated_at = as_of + longest_kept;
  if (made.next_changing_time > as_of) finished->outdated_at = std::min(finished->outdated_at, made.next_changing_time);
  finished->forecast_tag = entity_tag(made.forecast);
  finished->forecast = std::make_shared<const std::string>(std::move(made.forecast));
  for (std::size_t side = 0; side < 2; ++side) {
    finished->chart_tags[side] = entity_tag(made.charts[side]);
    finished->charts[side] = std::make_shared<const std::string>(std::move(made.charts[side]));
  }
  return finished;
}

}  // namespace

Finished ForecastCache::fresh(const std::string& household, std::int64_t last_entry) {
  const auto found = kept_.find(household);
  if (found == kept_.end()) return nullptr;
  const Instant now = households_.clock().now();
  const FinishedForecast& kept = *found->second;
  // A clock that was set back makes a kept forecast one of the future: out of date as well.
  const bool in_time = kept.as_of <= now && now < kept.outdated_at;
  return in_time && kept.last_entry >= last_entry ? found->second : nullptr;
}

Finished ForecastCache::ready(const std::string& household) {
  const auto last_entry = households_.last_entry(household);
  const std::lock_guard lock(mutex_);
  return fresh(household, last_entry);
}

Finished ForecastCache::get(const std::string& household) {
  for (;;) {
    const auto last_entry = households_.last_entry(household);
    std::promise<Finished> mine;
    std::shared_future<Finished> running;
    bool computes = false;
    {
      const std::lock_guard lock(mutex_);
      if (auto kept = fresh(household, last_entry)) return kept;
      const auto found = running_.find(household);
      computes = found == running_.end();
      if (computes)
        running_[household] = mine.get_future().share();
      else
        running = found->second;
    }
    if (!computes) {
      // One that began before our write may lack it: then go round once more.
      const auto& made = running.get();
      if (made->last_entry >= last_entry) return made;
      continue;
    }
    try {
      const auto made = compute(household);
      mine.set_value(made);
      return made;
    } catch (...) {
      {
        const std::lock_guard lock(mutex_);
        running_.erase(household);
      }
      mine.set_exception(std::current_exception());
      throw;
    }
  }
}

Finished ForecastCache::compute(const std::string& household) {
  const auto snapshot = households_.snapshot(household);
  const Instant as_of = households_.clock().now();
  auto finished = finish(forecaster_.make(snapshot->record, as_of), snapshot->last_entry, as_of);
  const std::lock_guard lock(mutex_);
  running_.erase(household);
  if (kept_.size() >= most_kept) kept_.erase(kept_.begin());
  kept_[household] = finished;
  return finished;
}

}  // namespace cellarer::api
