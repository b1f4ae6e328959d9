// SPDX-License-Identifier: MIT
#include "tests/bench/report/progress.hpp"

#include <algorithm>
#include <cstdio>

namespace cellarer::bench {

Progress::~Progress() {
  if (shown_) std::fputs("\r\033[K", stderr);
}

void Progress::now(const std::string& doing) {
  const std::lock_guard lock(mutex_);
  doing_ = doing;
  last_permille_ = -1;
  draw();
}

void Progress::done(double work) {
  const std::lock_guard lock(mutex_);
  done_ += work;
  draw();
}

void Progress::draw() {
  const double share = total_ > 0 ? std::min(done_ / total_, 1.0) : 1;
  const int permille = static_cast<int>(1000 * share);
  if (!shown_ || permille == last_permille_) return;
  last_permille_ = permille;
  constexpr int width = 30;
  const std::string bar(static_cast<std::size_t>(share * width), '#');
  std::fprintf(stderr, "\r\033[K[%-*s] %5.1f %%  %s", width, bar.c_str(), 100 * share, doing_.c_str());
  std::fflush(stderr);
}

}  // namespace cellarer::bench
