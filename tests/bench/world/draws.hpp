// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>
#include <cstdint>
#include <initializer_list>
#include <numbers>

/// Random numbers that depend on nothing but their key, on every machine alike: what happened on an evening does not
/// depend on what was asked before. SplitMix64 (Steele, Lea, Flood, OOPSLA 2014), normal ones by Box and Muller.
namespace cellarer::bench {

inline constexpr std::uint64_t split_mix_golden = 0x9e3779b97f4a7c15U;

/// The finaliser of SplitMix64.
constexpr std::uint64_t split_mix(std::uint64_t z) {
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

/// What a stream of draws is for; keeps streams of one household apart.
enum class Stream : std::uint64_t { world, brand, household, unit, set, lot, day, walk, duty, people };

class Draws {
 public:
  Draws(Stream stream, std::initializer_list<std::uint64_t> key) : state_(static_cast<std::uint64_t>(stream)) {
    for (const auto part : key) state_ = split_mix(state_ + split_mix_golden) ^ (part * 0xd1342543de82ef95U);
  }

  double uniform() { return (static_cast<double>(next() >> 11U) + 0.5) * 0x1p-53; }  ///< within (0, 1)
  double uniform(double low, double high) { return low + (high - low) * uniform(); }
  bool happens(double probability) { return uniform() < probability; }
  double normal() {
    const double radius = std::sqrt(-2 * std::log(uniform()));
    return radius * std::cos(2 * std::numbers::pi * uniform());
  }

 private:
  std::uint64_t state_;

  std::uint64_t next() {
    state_ += split_mix_golden;
    return split_mix(state_);
  }
};

}  // namespace cellarer::bench
