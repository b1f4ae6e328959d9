// SPDX-License-Identifier: MIT
#pragma once
#if defined(__GLIBC__)
#include <malloc.h>
#endif

namespace cellarer {

/// Keeps what is freed for what comes next. A forecast takes and frees some 200 KB, many times a second; by itself the
/// C library gives that back to the system each time, and half of a forecast's time went into getting it again.
inline void keep_freed_memory() {
#if defined(__GLIBC__)
  constexpr int kept_at_the_end = 16 << 20, taken_alone_from = 4 << 20;
  mallopt(M_TRIM_THRESHOLD, kept_at_the_end);
  mallopt(M_MMAP_THRESHOLD, taken_alone_from);
#endif
}

/// After work that took much more than the service keeps: the rest goes back to the system, from the midst of what is
/// in use too. It takes milliseconds, in which whoever wants memory may wait.
inline void give_freed_memory_back() {
#if defined(__GLIBC__)
  malloc_trim(0);
#endif
}

}  // namespace cellarer
