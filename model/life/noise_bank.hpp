// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "model/life/noise_filter.hpp"

namespace cellarer::life {

/// The noise states of many hypotheses, by fours, so that the processor reckons several of them at once.
class NoiseBank {
 public:
  NoiseBank() = default;
  /// Room for that many, all of which begin as `first` but for what `add` says.
  NoiseBank(std::size_t most, const NoiseState& first);

  /// Not after `keep`.
  void add(double bias_more, double offset_more, double tilt_more) {
    if (size_ % lanes == 0) groups_.push_back(first_);
    auto& mean = groups_[size_ / lanes].state.mean;
    mean[0][lane(size_)] += bias_more;
    mean[2][lane(size_)] += offset_more;
    mean[3][lane(size_)] += tilt_more;
    ++size_;
  }
  /// Those of these numbers, in rising order, stay.
  void keep(const std::vector<std::size_t>& kept);

  double mean(std::size_t k, std::size_t i) const { return groups_[k / lanes].state.mean[i][lane(k)]; }
  double cov(std::size_t k, std::size_t i, std::size_t j) const { return groups_[k / lanes].state.cov[i][j][lane(k)]; }

  /// Another unit's gauge: bias and wander begin anew.
  void renew_gauge(double bias_mean, double bias_variance, double wander_variance);

  /// What hypothesis k expects of the next reading by itself: its scale value, how that moves with the set's offset and
  /// tilt, and the variance of what is white. Each is told so before all `predict`.
  void expect(std::size_t k, double predicted, double load_offset, double load_tilt, double white_variance) {
    auto& told = groups_[k / lanes].prediction;
    told.mean[lane(k)] = predicted;
    told.sd[lane(k)] = load_offset;
    told.along[3][lane(k)] = load_tilt;
    told.variance[lane(k)] = white_variance;
  }
  /// Time passes, and what was expected becomes predictions.
  void predict(const PassedTime& passed, double load_bias, double load_wander);
  double predicted_mean(std::size_t k) const { return groups_[k / lanes].prediction.mean[lane(k)]; }
  double predicted_sd(std::size_t k) const { return groups_[k / lanes].prediction.sd[lane(k)]; }

  /// What all that they predicted makes of a reading, before anything is moved. Once is enough.
  void look(const Observed& observed);
  /// Afterwards: the probability of less than the reading's lower end, and of less than its upper end.
  double below_low(std::size_t k) const { return groups_[k / lanes].look.below_low[lane(k)]; }
  double below_high(std::size_t k) const { return groups_[k / lanes].look.below_high[lane(k)]; }

  /// All take in the reading that they predicted. Afterwards `likelihood` says how likely each found it.
  void take_in(const NoiseModel& model, const Observed& observed);
  double likelihood(std::size_t k) const { return groups_[k / lanes].look.learned.likelihood[lane(k)]; }

  /// Mean and covariance, over all hypotheses by their weights, of five numbers: the first of each one's own (what it
  /// takes the use to be), its bias, offset and tilt with what it leaves open of them, and the last of its own
  /// (capacity). Of the covariance what stands at row <= column.
  struct Moments {
    std::array<double, 5> mean;
    std::array<std::array<double, 5>, 5> cov;
  };
  /// One a hypothesis; the weights are together 1.
  Moments moments(std::span<const double> weights, std::span<const double> first, std::span<const double> last) const;

 private:
  using Lanes = numerics::Lanes;
  static constexpr std::size_t lanes = numerics::lane_count;
  static int lane(std::size_t k) { return static_cast<int>(k % lanes); }
  /// What four make of a reading.
  struct Look {
    LearnedOf<Lanes> learned;
    Lanes below_low, below_high;
  };
  struct Group {
    NoiseStateOf<Lanes> state;
    PredictionOf<Lanes> prediction;
    Look look;
  };
  std::size_t groups_in_use() const { return (size_ + lanes - 1) / lanes; }
  static Look look_at_point(const PredictionOf<Lanes>& prior, double value);
  static Look look_at_interval(const PredictionOf<Lanes>& prior, const Observed& observed);
  /// Four hypotheses' own numbers from k on; nought for nobody.
  Lanes own(std::span<const double> numbers, std::size_t k) const;

  std::size_t size_ = 0;
  Group first_{};
  std::vector<Group> groups_;
  bool looked_ = false;  ///< at the reading that was predicted
};

}  // namespace cellarer::life
