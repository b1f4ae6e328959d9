// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>

namespace cellarer::bench {

/// Where the truth falls in the belief, and how often it falls in the belief's central intervals.
///
/// The probability integral transform u = F(T) of the truth T is uniform when the belief F is what it says. Where F has
/// an atom at T, u is drawn evenly between F just before T and F(T) (randomised PIT: Czado, Gneiting and Held,
/// "Predictive model assessment for count data", 2009). The central interval of level c covers T when |u - 1/2| <= c/2.
inline double randomised_pit(double below_before, double below, double chance) {
  return below_before + chance * (below - below_before);
}

class Coverage {
 public:
  static constexpr std::array<double, 4> levels{0.50, 0.80, 0.90, 0.98};
  static constexpr std::size_t ninety = 2;  ///< index of the level that has a target

  void add(double pit) {
    ++evenings_;
    pit_sum_ += pit;
    const double off_centre = pit < 0.5 ? 0.5 - pit : pit - 0.5;
    for (std::size_t i = 0; i < levels.size(); ++i) inside_[i] += 2 * off_centre <= levels[i] ? 1 : 0;
  }
  void add_set() { ++sets_; }
  void merge(const Coverage& other) {
    evenings_ += other.evenings_;
    sets_ += other.sets_;
    pit_sum_ += other.pit_sum_;
    for (std::size_t i = 0; i < levels.size(); ++i) inside_[i] += other.inside_[i];
  }

  std::uint64_t evenings() const { return evenings_; }
  std::uint64_t sets() const { return sets_; }  ///< different sets among them
  double share(std::size_t level) const {
    return evenings_ == 0 ? 0 : static_cast<double>(inside_[level]) / static_cast<double>(evenings_);
  }
  /// One half when the belief is centred; below it sets end earlier than believed.
  double mean_pit() const { return evenings_ == 0 ? 0 : pit_sum_ / static_cast<double>(evenings_); }

 private:
  std::array<std::uint64_t, 4> inside_{};
  std::uint64_t evenings_ = 0, sets_ = 0;
  double pit_sum_ = 0;
};

}  // namespace cellarer::bench
