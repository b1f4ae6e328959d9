// SPDX-License-Identifier: MIT
#include "server/api/forecast_cache.hpp"

namespace cellarer::api {

namespace {

constexpr std::chrono::minutes longest_kept{10};
constexpr std::size_t most_kept = 8192;

Finished finish(MadeForecast made, const service::Snapshot& snapshot, Instant as_of) {
  auto finished = std::make_shared<FinishedForecast>();
  finished->last_entry = snapshot.last_entry;
  finished->lots = snapshot.lots;
  finished->as_of = as_of;
  finished->outdated_at = as_of + longest_kept;
  if (made.next_changing_time > as_of) finished->outdated_at = std::min(finished->outdated_at, made.next_changing_time);
  finished->fresh_lives = std::move(made.fresh_lives);
  finished->forecast_tag = entity_tag(made.forecast);
  finished->forecast = std::make_shared<const std::string>(std::move(made.forecast));
  return finished;
}

Charts finish(std::array<std::string, 2> made) {
  auto finished = std::make_shared<FinishedCharts>();
  for (std::size_t side = 0; side < made.size(); ++side) {
    finished->tags[side] = entity_tag(made[side]);
    finished->charts[side] = std::make_shared<const std::string>(std::move(made[side]));
  }
  return finished;
}

}  // namespace

ForecastCache::Kept ForecastCache::fresh(const std::string& household, const Known& known) {
  const auto found = kept_.find(household);
  if (found == kept_.end()) return {};
  const Instant now = households_.clock().now();
  const FinishedForecast& kept = *found->second.forecast;
  // A clock that was set back makes a kept forecast one of the future: out of date as well.
  const bool in_time = kept.as_of <= now && now < kept.outdated_at;
  return in_time && known.by(kept) ? found->second : Kept{};
}

ForecastCache::Kept ForecastCache::kept(const std::string& household) {
  households_.require_clock();
  const auto now = known(household);
  const std::lock_guard lock(mutex_);
  return fresh(household, now);
}

Finished ForecastCache::ready(const std::string& household) { return kept(household).forecast; }

Charts ForecastCache::ready_charts(const std::string& household) { return kept(household).charts; }

Charts ForecastCache::charts(const std::string& household) {
  for (;;) {
    const auto forecast = get(household);
    if (auto made = ready_charts(household)) return made;
    const auto snapshot = households_.snapshot(household);
    // Somebody wrote in between: another forecast, and its charts.
    if (snapshot->last_entry != forecast->last_entry || snapshot->lots != forecast->lots) continue;
    auto finished = finish(forecaster_.charts(snapshot->record, forecast->as_of));
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(household);
    if (found != kept_.end() && found->second.forecast == forecast) found->second.charts = finished;
    return finished;
  }
}

Finished ForecastCache::get(const std::string& household) {
  households_.require_clock();
  for (;;) {
    const auto now = known(household);
    std::promise<Finished> mine;
    std::shared_future<Finished> running;
    bool computes = false;
    {
      const std::lock_guard lock(mutex_);
      if (auto kept = fresh(household, now); kept.forecast) return kept.forecast;
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
      if (now.by(*made)) return made;
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

void ForecastCache::forget(const std::string& household) {
  const std::lock_guard lock(mutex_);
  ++forgotten_;
  kept_.erase(household);
  running_.erase(household);
}

Finished ForecastCache::compute(const std::string& household) {
  std::uint64_t forgotten = 0;
  {
    const std::lock_guard lock(mutex_);
    forgotten = forgotten_;
  }
  const auto snapshot = households_.snapshot(household);
  households_.looked_at(*snapshot);
  const Instant as_of = households_.clock().now();
  auto finished = finish(forecaster_.make(snapshot->record, as_of), *snapshot, as_of);
  const std::lock_guard lock(mutex_);
  running_.erase(household);
  if (forgotten != forgotten_) return finished;
  if (kept_.size() >= most_kept) kept_.erase(kept_.begin());
  kept_[household] = {finished};
  return finished;
}

}  // namespace cellarer::api
