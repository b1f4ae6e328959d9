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
  for (std::size_t side = 0; side < 2; ++side) {
    finished->chart_tags[side] = entity_tag(made.charts[side]);
    finished->charts[side] = std::make_shared<const std::string>(std::move(made.charts[side]));
  }
  return finished;
}

}  // namespace

Finished ForecastCache::fresh(const std::string& household, const Known& known) {
  const auto found = kept_.find(household);
  if (found == kept_.end()) return nullptr;
  const Instant now = households_.clock().now();
  const FinishedForecast& kept = *found->second;
  // A clock that was set back makes a kept forecast one of the future: out of date as well.
  const bool in_time = kept.as_of <= now && now < kept.outdated_at;
  return in_time && known.by(kept) ? found->second : nullptr;
}

Finished ForecastCache::ready(const std::string& household) {
  households_.require_clock();
  const auto now = known(household);
  const std::lock_guard lock(mutex_);
  return fresh(household, now);
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
      if (auto kept = fresh(household, now)) return kept;
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
  const Instant as_of = households_.clock().now();
  auto finished = finish(forecaster_.make(snapshot->record, as_of), *snapshot, as_of);
  const std::lock_guard lock(mutex_);
  running_.erase(household);
  if (forgotten != forgotten_) return finished;
  if (kept_.size() >= most_kept) kept_.erase(kept_.begin());
  kept_[household] = finished;
  return finished;
}

}  // namespace cellarer::api
