// SPDX-License-Identifier: MIT
#include "server/service/review_renewal.hpp"

#include <spdlog/spdlog.h>
#include <sys/resource.h>

#include "server/heap.hpp"

namespace cellarer::service {

namespace {

using Steady = std::chrono::steady_clock;

constexpr std::chrono::seconds at_least{10};
constexpr int rests_of_one_run = 9;
/// What fewer homes took is soon taken again.
constexpr std::size_t many_homes = 100;

}  // namespace

ReviewRenewal::ReviewRenewal(ReviewBook& book, EffectBook& effects)
    : book_(book), effects_(effects), next_asked_(Steady::now() + at_least), next_other_(next_asked_) {
  thread_ = std::thread([this] { run(); });
}

ReviewRenewal::~ReviewRenewal() {
  ending_ = true;
  thread_.join();
}

std::size_t ReviewRenewal::renew_asked() {
  const auto began = Steady::now();
  if (began < next_asked_ && !(book_.awaited() && began >= rested_)) return 0;
  next_asked_ = began + at_least;  // whatever is thrown
  effects_.work(ending_);
  const auto read = book_.renew_asked(ending_);
  const auto ended = Steady::now();
  rested_ = ended + (ended - began);
  next_asked_ = ended + std::max<Steady::duration>(at_least, rests_of_one_run * (ended - began));
  return read;
}

std::size_t ReviewRenewal::renew_next() {
  if (Steady::now() < next_other_) return 0;
  next_other_ = Steady::now() + at_least;
  const auto read = book_.renew_next(ending_);
  if (read) next_other_ = {};  // the one after it has its turn at once
  return read.value_or(0);
}

void ReviewRenewal::run() {
  setpriority(PRIO_PROCESS, 0, 19);  // of this thread alone, on Linux: whoever asks comes first
  for (; !ending_; std::this_thread::sleep_for(std::chrono::milliseconds(200))) {
    try {
      const auto read = renew_asked() + renew_next();
      if (read > 0) spdlog::info("reviewed {} households anew", read);
      if (read >= many_homes) give_freed_memory_back();
    } catch (const std::exception& error) {
      spdlog::warn("reviewing households: {}", error.what());
    }
  }
}

}  // namespace cellarer::service
