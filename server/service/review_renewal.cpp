// SPDX-License-Identifier: MIT
#include "server/service/review_renewal.hpp"

#include <spdlog/spdlog.h>
#include <sys/resource.h>

namespace cellarer::service {

ReviewRenewal::ReviewRenewal(ReviewBook& book, EffectBook& effects)
    : book_(book), effects_(effects), thread_([this] { run(); }) {}

ReviewRenewal::~ReviewRenewal() {
  ending_ = true;
  thread_.join();
}

void ReviewRenewal::run() {
  setpriority(PRIO_PROCESS, 0, 19);  // of this thread alone, on Linux: whoever asks comes first
  using Steady = std::chrono::steady_clock;
  constexpr std::chrono::seconds at_least{10};
  constexpr int rests_of_one_run = 9;
  auto next = Steady::now() + at_least;
  for (; !ending_; std::this_thread::sleep_for(std::chrono::milliseconds(200))) {
    if (Steady::now() < next) continue;
    const auto began = Steady::now();
    try {
      effects_.work(ending_);
      const auto renewed = book_.renew(ending_);
      if (renewed > 0) spdlog::info("reviewed {} households anew", renewed);
    } catch (const std::exception& error) {
      spdlog::warn("reviewing households: {}", error.what());
    }
    const auto took = Steady::now() - began;
    next = Steady::now() + std::max<Steady::duration>(at_least, rests_of_one_run * took);
  }
}

}  // namespace cellarer::service
