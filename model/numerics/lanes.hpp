// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>
#include <cstring>

/// Four numbers that the processor reckons at once, or two and two, for loops over many hypotheses: a vector of GCC and
/// Clang, which reckons each of the four exactly as a number by itself. Functions stand beside those of the standard
/// library, so that one template serves numbers and lanes.
///
/// A function that spends its time with lanes is marked `CELLARER_BY_FOUR`: it is compiled twice, and where the
/// processor has registers for four (AVX2) the wider one runs. Both give the same bits: nothing is fused or reordered.
/// What it calls is inlined (`CELLARER_INLINE`), so that it is wide too. Clang 14 names such functions otherwise where
/// they are called, and the thread sanitizer is not there yet when they are chosen: the narrow one serves these.
namespace cellarer::numerics {

#if defined(__x86_64__) && defined(__GLIBC__) && !defined(__clang__) && !defined(__SANITIZE_THREAD__)
#define CELLARER_BY_FOUR __attribute__((target_clones("avx2", "default")))
#else
#define CELLARER_BY_FOUR
#endif
#define CELLARER_INLINE inline __attribute__((always_inline))

using Lanes = double __attribute__((vector_size(32)));
constexpr int lane_count = 4;

CELLARER_INLINE Lanes load(const double* from) {
  Lanes lanes;
  std::memcpy(&lanes, from, sizeof lanes);
  return lanes;
}
CELLARER_INLINE void store(double* to, Lanes lanes) { std::memcpy(to, &lanes, sizeof lanes); }

using LaneBits = long long __attribute__((vector_size(32)));
/// `yes` where a comparison of lanes came out true, `no` elsewhere.
CELLARER_INLINE Lanes choose(LaneBits where, Lanes yes, Lanes no) {
  return Lanes(((LaneBits)yes & where) | ((LaneBits)no & ~where));
}
CELLARER_INLINE Lanes abs(Lanes x) {
  constexpr long long all_but_sign = 0x7fffffffffffffff;
  return Lanes((LaneBits)x & all_but_sign);
}

/// Of no negative number.
CELLARER_INLINE Lanes sqrt(Lanes x) {
  return Lanes{std::sqrt(x[0]), std::sqrt(x[1]), std::sqrt(x[2]), std::sqrt(x[3])};
}

/// e^x for x <= 0, within 4e-16 of it; below -700, where a forecast asks for nothing, e^-700.
///
///     x = n ln 2 + r,  |r| <= ln 2 / 2,   e^x = 2^n e^r,   e^r by Taylor's series to r^13
///
/// What the series leaves out is below r^14 / 14!, 5e-18.
CELLARER_INLINE Lanes exp(Lanes x) {
  constexpr double lowest = -700, per_ln2 = 1.4426950408889634;
  constexpr double ln2_high = 6.93147180369123816490e-01, ln2_low = 1.90821492927058770002e-10;  // high: 32 bits
  constexpr double whole_numbers = 6755399441055744.0;  // 1.5 * 2^52: what is added to it is rounded to whole numbers
  x = choose(x < lowest, Lanes{} + lowest, x);
  const Lanes shifted = x * per_ln2 + whole_numbers;
  const Lanes n = shifted - whole_numbers;
  const Lanes r = (x - n * ln2_high) - n * ln2_low;
  const Lanes r2 = r * r, r4 = r2 * r2;
  const Lanes low = (1 + r) + r2 * (0.5 + r * (1.0 / 6));
  const Lanes mid = (1.0 / 24 + r * (1.0 / 120)) + r2 * (1.0 / 720 + r * (1.0 / 5040));
  const Lanes high = (1.0 / 40320 + r * (1.0 / 362880)) + r2 * (1.0 / 3628800 + r * (1.0 / 39916800));
  const Lanes top = 1.0 / 479001600 + r * (1.0 / 6227020800);
  const Lanes series = low + r4 * (mid + r4 * (high + r4 * top));
  // The last bits of `shifted` are n: added to the exponent's place they multiply by 2^n.
  return Lanes((LaneBits)series + ((LaneBits)shifted << 52));
}

}  // namespace cellarer::numerics
