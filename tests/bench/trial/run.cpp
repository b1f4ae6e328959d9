// SPDX-License-Identifier: MIT
#include "tests/bench/trial/run.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <memory>
#include <mutex>
#include <thread>

#include "tests/bench/world/simulate.hpp"

namespace cellarer::bench {

double side_nights_of(std::size_t households, int nights) { return 2.0 * nights * static_cast<double>(households); }

Scores run(const Run& run, Progress& progress) {
  constexpr std::size_t part_size = 8;
  const std::size_t parts = (run.households + part_size - 1) / part_size;
  std::vector<std::unique_ptr<Scores>> done(parts);
  std::atomic<std::size_t> next{0};
  std::exception_ptr failed;
  std::mutex failing;
  const auto work = [&] {
    try {
      for (std::size_t part = next++; part < parts; part = next++) {
        auto scores = std::make_unique<Scores>(run.asked);
        const std::size_t first = part * part_size, last = std::min(first + part_size, run.households);
        for (std::size_t household = first; household < last; ++household) {
          simulate(*run.world, run.seed, household, run.decider, run.told, *scores);
        }
        progress.done(side_nights_of(last - first, run.world->spec().nights));
        done[part] = std::move(scores);
      }
    } catch (...) {
      const std::lock_guard lock(failing);
      failed = std::current_exception();
      next = parts;
    }
  };
  std::vector<std::thread> threads;
  const auto cores = std::max(1U, std::thread::hardware_concurrency());
  for (std::size_t i = 0; i < std::min<std::size_t>(cores, parts); ++i) threads.emplace_back(work);
  for (auto& thread : threads) thread.join();
  if (failed) std::rethrow_exception(failed);
  Scores all(run.asked);
  for (const auto& part : done) all.merge(*part);
  return all;
}

}  // namespace cellarer::bench
