// SPDX-License-Identifier: MIT
#pragma once
#include <time.h>

#include <algorithm>
#include <cstddef>
#include <vector>

/// Times on a machine that others use too: processor time of this thread rather than the wall's; what is compared takes
/// turns, and of each the median counts.
namespace cellarer::bench {

inline double processor_seconds() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

template <class Work>
double seconds_of(const Work& work) {
  const double began = processor_seconds();
  work();
  return processor_seconds() - began;
}

inline double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace cellarer::bench
